/** The station's own animals through the doors: kinds, what was learned, on and off, and refusals in words. */
import { once } from 'node:events'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { setTimeout as wait } from 'node:timers/promises'
import express from 'express'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { z } from 'zod'
import type { House } from '../../services/house.ts'
import { jsonBody } from '../../services/http/json-body.ts'
import { kindsAnswer, namerCropsAnswer, namersAnswer } from '../../services/http/own-animal-shapes.ts'
import { problemHandler } from '../../services/http/problem.ts'
import { ownAnimalRoutes } from '../../services/http/routes/own-animals.ts'
import { rerunRoutes } from '../../services/http/routes/reruns.ts'
import { stillRoutes } from '../../services/http/routes/stills.ts'
import { problemShape, rerunCountAnswer, rerunsAnswer, stillAnswer } from '../../services/http/shapes.ts'
import { type Learning, startLearning } from '../../services/queue/learning.ts'
import { openRecording } from '../../services/queue/process-still.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordChecks } from '../../services/store/checks.ts'
import type { Instant } from '../../services/words.ts'
import { inventedAnimals } from './invented-animals.ts'
import { models, openSmallStation, receive, type SmallStation } from './small-station.ts'

const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const FIRST_NIGHT = parseInstant('2026-09-01T20:00:00+09:30')
const MINUTE_MS = 60_000
const NIGHT_MS = 86_400_000
const NIGHTS = 16
const KINDS = ['camel', 'horse', 'goat', 'sheep'] as const

let station: SmallStation
let learning: Learning
let address: string
let photo: (night: number, kind: string) => Promise<number>
let close: () => Promise<void>

beforeAll(async () => {
  station = await openSmallStation()
  const { ledger } = station
  const animals = inventedAnimals(5)
  const recordLook = openRecording(ledger)
  photo = async (night, kind) => {
    const at = (FIRST_NIGHT + night * NIGHT_MS + kind.length * 40 * MINUTE_MS) as Instant
    const id = await receive(station, { name: `${night} ${kind}`, cameraId: station.cameraIds[0], at })
    await recordLook({ stillId: id, urgency: 'today' }, animals.look([kind, kind], models))
    return id
  }
  learning = startLearning(ledger, { models, now: () => NOW, log: () => undefined, afterWordsMs: 1 })
  const app = express()
  const house = { ledger, models, learning, now: () => NOW, queue: { refill: () => undefined } }
  app.use(
    '/api',
    jsonBody,
    [ownAnimalRoutes, rerunRoutes, stillRoutes].map((routes) => routes(house as unknown as House)),
  )
  app.use(problemHandler(() => undefined))
  const server = createServer(app).listen(0, '127.0.0.1')
  await once(server, 'listening')
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  close = async () => {
    server.close()
    server.closeAllConnections()
    await learning.stop()
    await station.close()
  }
})
afterAll(() => close())

async function ask<Shape extends z.ZodType>(
  shape: Shape,
  path: string,
  {
    method = 'GET',
    body,
    status = method === 'POST' ? 201 : 200,
  }: { method?: string; body?: unknown; status?: number } = {},
): Promise<z.output<Shape>> {
  const response = await fetch(`${address}/api${path}`, {
    method,
    ...(body !== undefined && {
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    }),
  })
  const json: unknown = await response.json()
  expect(response.status, JSON.stringify(json)).toBe(status)
  const parsed = shape.parse(json)
  expect(parsed).toEqual(json)
  return parsed
}

it('says what there is before anything was learned', async () => {
  expect(await ask(namersAnswer, '/namers')).toMatchObject({
    canLearn: true,
    isOn: true,
    takesNew: true,
    inUse: null,
    animals: 0,
    triedAt: 60,
    versions: [],
  })
  expect(await ask(namerCropsAnswer, '/namers/crops')).toEqual({ version: null, crops: [] })
})

it('keeps the owner’s own kinds, and none that is counted already', async () => {
  await ask(kindsAnswer, '/kinds', { method: 'POST', body: { name: ' Sheep ' } })
  await ask(kindsAnswer, '/kinds', { method: 'POST', body: { name: 'sheep' } })
  await ask(kindsAnswer, '/kinds', { method: 'POST', body: { name: 'wild dog' } })
  expect((await ask(kindsAnswer, '/kinds')).kinds.map(({ name }) => name)).toEqual(['sheep', 'wild dog'])
  for (const name of ['camel', 'Camels', 'other', 'cattle'])
    await ask(problemShape, '/kinds', { method: 'POST', body: { name }, status: 409 })
  await ask(problemShape, '/kinds', { method: 'POST', body: { name: ' ' }, status: 400 })
  expect((await ask(kindsAnswer, '/kinds/wild%20dog', { method: 'DELETE' })).kinds).toHaveLength(1)
  await ask(problemShape, '/kinds/wild%20dog', { method: 'DELETE', status: 404 })
})

it('has no more kinds than can be told apart', async () => {
  for (let i = 0; i < 11; i++)
    await ask(kindsAnswer, '/kinds', { method: 'POST', body: { name: `kind ${i}` } })
  await ask(problemShape, '/kinds', { method: 'POST', body: { name: 'one more' }, status: 409 })
  for (let i = 0; i < 11; i++) await ask(kindsAnswer, `/kinds/kind%20${i}`, { method: 'DELETE' })
})

it('answers while it learns, and then says what it learned and how the trial went', async () => {
  for (let night = 0; night < NIGHTS; night++)
    for (const kind of KINDS)
      await recordChecks(station.ledger, {
        who: 'station',
        at: NOW,
        words: [
          {
            stillId: await photo(night, kind),
            verdict: 'corrected',
            ...(kind === 'sheep' ? { counts: {}, others: { sheep: 2 } } : { counts: { [kind]: 2 } }),
          },
        ],
      })
  learning.wake()
  let atWork = false
  while (!atWork) {
    atWork = (await ask(namersAnswer, '/namers')).atWork
    await wait(2)
  }
  await learning.settled()
  const namers = await ask(namersAnswer, '/namers')
  const [version] = namers.versions
  expect(namers).toMatchObject({
    atWork: false,
    inUse: version!.version,
    animals: NIGHTS * 8,
    triedAt: NIGHTS * 16,
  })
  expect(namers.ofEach.find(({ kind }) => kind === 'sheep')).toEqual({
    kind: 'sheep',
    animals: NIGHTS * 2,
    nights: NIGHTS,
    enough: true,
  })
  expect(namers.ofEach.find(({ kind }) => kind === 'cattle')).toMatchObject({ animals: 0, enough: false })
  expect(version).toMatchObject({ verdict: 'take', kinds: ['camel', 'horse', 'goat', 'sheep'] })
  expect(version!.trial.ofEach.find(({ name }) => name === 'camel')).toMatchObject({
    animals: NIGHTS * 2,
    missedBefore: NIGHTS * 2,
    missedNow: 0,
    worse: false,
  })
  const { crops } = await ask(namerCropsAnswer, '/namers/crops')
  expect(crops).toHaveLength(NIGHTS * 8)
  await ask(problemShape, '/namers/crops?version=99', { status: 404 })
}, 60_000)

it('shows an own kind on its box', async () => {
  const id = await photo(30, 'sheep')
  const { still } = await ask(stillAnswer, `/stills/${id}`)
  expect(still.tally).toEqual({})
  expect(still.boxes.map(({ ownKind, counted }) => [ownKind, counted])).toEqual([
    ['sheep', false],
    ['sheep', false],
  ])
})

it('offers to name old photos anew, and puts the models’ names back when it is turned off', async () => {
  const { photos, models: towards } = await ask(rerunCountAnswer, '/reruns/count?namesOnly=yes')
  expect([photos, towards.version]).toEqual([NIGHTS * KINDS.length, models.version])
  const off = await ask(namersAnswer, '/namers', { method: 'PUT', body: { isOn: false } })
  expect([off.isOn, off.inUse]).toEqual([false, null])
  const [rerun] = (await ask(rerunsAnswer, '/reruns')).reruns
  // Only the sheep photo of before was named by the station's own.
  expect(rerun).toMatchObject({ state: 'running', namesOnly: true, total: 1, models: { stationNamer: null } })
  const on = await ask(namersAnswer, '/namers', { method: 'PUT', body: { isOn: true } })
  expect(on.inUse).not.toBeNull()
  expect((await ask(rerunsAnswer, '/reruns')).reruns[0]!.state).toBe('stopped')
})

it('learns anew at once when the owner says that a species never comes, and forgets it when it does', async () => {
  const before = await ask(namersAnswer, '/namers')
  const put = (absent: string[]) => ask(namersAnswer, '/namers', { method: 'PUT', body: { absent } })
  expect((await put(['donkey'])).absent).toEqual(['donkey'])
  await learning.settled()
  const learned = await ask(namersAnswer, '/namers')
  expect(learned.versions).toHaveLength(before.versions.length + 1)
  expect(learned.versions[0]).toMatchObject({
    verdict: 'take',
    kinds: ['camel', 'horse', 'donkey', 'goat', 'sheep'],
  })
  expect(learned.inUse).toBe(learned.versions[0]!.version)
  expect((await put([])).inUse).toBeNull()
  await learning.settled()
  const again = await ask(namersAnswer, '/namers')
  expect(again.versions[0]!.kinds).toEqual(['camel', 'horse', 'goat', 'sheep'])
  expect(again.inUse).toBe(again.versions[0]!.version)
}, 60_000)

it('refuses a version that is not there, and a field it does not know', async () => {
  await ask(problemShape, '/namers', { method: 'PUT', body: { use: 99 }, status: 404 })
  await ask(problemShape, '/namers', { method: 'PUT', body: { ridge: 1 }, status: 400 })
})
