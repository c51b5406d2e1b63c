/** Looking again and counting again through the doors: asked for, told of, paused, and refused in words. */
import { once } from 'node:events'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import express from 'express'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import type { z } from 'zod'
import type { House } from '../../services/house.ts'
import { jsonBody } from '../../services/http/json-body.ts'
import { problemHandler } from '../../services/http/problem.ts'
import { rerunRoutes } from '../../services/http/routes/reruns.ts'
import { stationRoutes } from '../../services/http/routes/station.ts'
import { waterRunRoutes } from '../../services/http/routes/water-run.ts'
import {
  type Problem,
  problemShape,
  rerunAnswer,
  rerunCountAnswer,
  rerunsAnswer,
  stationAnswer,
  waterRunAnswer,
} from '../../services/http/shapes.ts'
import type { Queue } from '../../services/queue/queue.ts'
import { type Recounting, startRecounting } from '../../services/queue/recounting.ts'
import { parseInstant } from '../../services/station-time.ts'
import { lockPoint } from '../../services/store/point-lock.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'
import { newerModels, seenAs, startStubQueue } from './stub-looks.ts'

const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const EVENING = parseInstant('2026-10-02T18:00:00+09:30')

let station: SmallStation
let queue: Queue
let recounting: Recounting
let address: string
let openLooks: () => void
let close: () => Promise<void>

beforeEach(async () => {
  station = await openSmallStation()
  for (const name of ['first', 'second']) {
    const id = await receive(station, { name, cameraId: station.cameraIds[0], at: EVENING })
    await record(station, id, { camel: 1 }, 0.55)
  }
  const looks = new Promise<void>((resolve) => {
    openLooks = resolve
  })
  queue = startStubQueue(
    station.ledger,
    async () => {
      await looks
      return seenAs({ camel: 2 })
    },
    { names: ['first', 'second'] },
  )
  recounting = startRecounting(station.ledger, { log: () => undefined })
  const house = {
    ledger: station.ledger,
    queue,
    recounting,
    models: newerModels,
    defaultThresholds: { count: 0.5, flag: 0.35 },
    room: { look: async () => ({ state: 'well', freeBytes: 1, totalBytes: 1, reserveBytes: 0 }) },
    now: () => NOW,
    making: () => null,
  } as unknown as House
  const app = express()
  app.use('/api', jsonBody, [rerunRoutes(house), stationRoutes(house), waterRunRoutes(house)])
  app.use(problemHandler(() => undefined))
  const server = createServer(app)
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  close = async () => {
    server.close()
    server.closeAllConnections()
  }
})
afterEach(async () => {
  openLooks()
  await close()
  await queue.stop()
  await recounting.stop()
  await station.close()
})

const ask = (path: string) => fetch(`${address}${path}`)
const send = (method: string, path: string, body: unknown = {}) =>
  fetch(`${address}${path}`, {
    method,
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  })
async function read<Shape extends z.ZodType>(shape: Shape, answer: Response, status = 200) {
  expect(answer.status).toBe(status)
  const json: unknown = await answer.json()
  const parsed = shape.parse(json)
  expect(parsed).toEqual(json)
  return parsed
}
const refusal = (answer: Response, status: number): Promise<Problem> => read(problemShape, answer, status)
const reruns = async () => await read(rerunsAnswer, await ask('/api/reruns'))

it('says how many photos an older model looked at before anything is begun', async () => {
  expect(await read(rerunCountAnswer, await ask('/api/reruns/count'))).toEqual({
    photos: 2,
    from: '2026-10-02',
    to: '2026-10-02',
    models: { name: 'made-up', version: '2', stationNamer: null },
  })
  const narrowed = await ask(`/api/reruns/count?from=2026-10-03&pointIds=${station.pointId},99`)
  expect(await read(rerunCountAnswer, narrowed)).toMatchObject({ photos: 0, from: null })
})

it('is started, watched, paused and gone on with', async () => {
  const { rerun } = await read(
    rerunAnswer,
    await send('POST', '/api/reruns', { from: '2026-10-01', to: '2026-10-05', pointIds: [station.pointId] }),
    201,
  )
  expect(rerun).toMatchObject({
    state: 'running',
    total: 2,
    done: 0,
    failed: 0,
    madeAt: '2026-10-20T08:00:00+10:30',
  })
  expect(await read(rerunAnswer, await send('POST', `/api/reruns/${rerun.id}/pause`))).toMatchObject({
    rerun: { state: 'paused' },
  })
  const { progress } = await read(waterRunAnswer, await ask('/api/water-run'))
  expect(progress.again).toEqual({ done: 0, of: 2, paused: true })
  await read(rerunAnswer, await send('POST', `/api/reruns/${rerun.id}/resume`))
  openLooks()
  await vi.waitFor(async () => expect((await reruns()).reruns[0]).toMatchObject({ state: 'done', done: 2 }), {
    timeout: 40_000,
  })
  expect((await read(waterRunAnswer, await ask('/api/water-run'))).progress.again).toBeNull()
  expect((await refusal(await send('POST', `/api/reruns/${rerun.id}/pause`), 409)).remedy).not.toBe('')
})

it('is refused in words: a second beside the first, nights the wrong way round, one that is not there', async () => {
  const { rerun } = await read(rerunAnswer, await send('POST', '/api/reruns'), 201)
  await refusal(await send('POST', '/api/reruns'), 409)
  await read(rerunAnswer, await send('POST', `/api/reruns/${rerun.id}/stop`))
  const turned = await refusal(
    await send('POST', '/api/reruns', { from: '2026-10-05', to: '2026-10-01' }),
    400,
  )
  expect(turned.field).toBe('from')
  expect((await refusal(await send('POST', '/api/reruns', { night: '2026-10-05' }), 400)).field).toBe('night')
  expect((await refusal(await ask('/api/reruns/count?pointIds=1,x'), 400)).field).toMatch(/^pointIds/)
  await refusal(await send('POST', '/api/reruns/999/pause'), 404)
  await refusal(await send('POST', '/api/recount/pause'), 409)
})

it('new marks are answered at once, and their counts follow in the background', async () => {
  const { station: before } = await read(stationAnswer, await ask('/api/station'))
  const { demo: _, ...fields } = before!
  const species = fields.species.map((one) => ({ ...one, countThreshold: 0.7 }))
  // A point that is being worked on is not waited for.
  let release: () => void = () => undefined
  const held = new Promise<void>((resolve) => {
    release = resolve
  })
  const busy = station.ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, station.pointId)
    await held
  })
  const { station: after } = await read(
    stationAnswer,
    await send('PUT', '/api/station', { ...fields, species }),
  )
  expect(after!.species[0]!.countThreshold).toBe(0.7)
  expect((await reruns()).recount).toEqual({ state: 'running', total: 2, done: 0, lastError: null })
  release()
  await busy
  await vi.waitFor(async () => expect((await reruns()).recount).toBeNull(), { timeout: 40_000 })
  expect(await station.ledger.selectFrom('visits').selectAll().execute()).toEqual([])
})
