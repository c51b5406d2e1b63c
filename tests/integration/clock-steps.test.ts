/** The clock of the service's machine is set, or sets itself: a day back, two days forward, in the middle of the work. */
import { createHash } from 'node:crypto'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { z } from 'zod'
import { waterRunRow } from '../../services/http/shapes.ts'
import { builtFile } from '../../services/paths.ts'
import { parseInstant } from '../../services/station-time.ts'
import type { Species } from '../../services/words.ts'
import { until } from '../faults/service-process.ts'
import { stubLook } from '../stub-look.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import type { SetUpCamera, TestService } from './service.ts'
import { addPointWithCamera, camerasNow, openStation } from './station.ts'
import { photoLike } from './stub-photos.ts'

const TRUE = '2026-11-25T12:00:00+10:30'
const DAY_BEFORE = '2026-11-24T12:00:00+10:30'
const TWO_DAYS_ON = '2026-11-27T12:00:00+10:30'
const STEPS = [TRUE, DAY_BEFORE, TWO_DAYS_ON, '2026-11-25T12:10:00+10:30']
let service: TestService
let camera: SetUpCamera

beforeEach(async () => {
  service = await openStation({ surroundings: { eyeEntry: builtFile('tests/stub-eye.js') } })
  service.setClock(TRUE)
  // With heartbeats every contact counts as watched time around it.
  camera = await addPointWithCamera(service, { name: 'Wren Bore' }, { sendsHeartbeats: true })
})
afterEach(() => service.stop())

const send = async (word: string, headers: Record<string, string> = {}) =>
  await service.post('/api/stills', camera, await photoLike(word), headers)
const stills = () => service.house.ledger.selectFrom('stills').selectAll().orderBy('id').execute()
const at = (iso: string) => new Date(parseInstant(iso))
const rows = async () =>
  z.object({ rows: z.array(waterRunRow) }).parse((await service.ask('/api/water-run')).json).rows

/** A photo in which the stub eye sees this species. */
async function photoOf(species: Species): Promise<Buffer> {
  for (let i = 0; ; i += 1) {
    const photo = await photoLike(`${species} ${i}`)
    const { found } = stubLook(createHash('sha256').update(photo).digest(), service.house.models)
    if (found.some((one) => one.species === species)) return photo
  }
}

const cameraNow = async () => (await camerasNow(service))[0]!

async function expectCountsStand(): Promise<void> {
  const { ledger } = service.house
  const kept = await keptAggregates(ledger)
  expect(kept).toEqual(await recountFromNothing(ledger))
  expect(kept.effort.length).toBeGreaterThan(0)
  expect((await cameraNow()).photos).toBe((await stills()).length)
}

it('photos without a time of their own are kept once each, at the time the clock said', async () => {
  for (const clock of STEPS) {
    service.setClock(clock)
    expect((await send(clock)).status).toBe(201)
    expect((await service.tell('/api/heartbeats', camera, {})).status).toBe(201)
    expect((await service.tell('/api/levels', camera, { levelPercent: 60 })).status).toBe(201)
  }
  // What came under another clock is still the same photo, and keeps its time.
  for (const clock of STEPS) expect((await send(clock)).status).toBe(200)
  await service.waitUntilRead()

  const rows = await stills()
  expect(rows.map((row) => row.received_at)).toEqual(STEPS.map(at))
  expect(rows.map((row) => row.taken_at)).toEqual(STEPS.map(at))
  expect(rows.map((row) => [row.state, row.clock_doubt])).toEqual(STEPS.map(() => ['done', null]))
  const { ledger } = service.house
  const beats = await ledger.selectFrom('heartbeats').select(['at', 'received_at']).orderBy('at').execute()
  const inOrder = STEPS.map(at).toSorted((a, b) => a.getTime() - b.getTime())
  expect(beats).toEqual(inOrder.map((time) => ({ at: time, received_at: time })))
  const levels = await ledger.selectFrom('point_states').select('at').orderBy('at').execute()
  expect(levels.map((row) => row.at)).toEqual(inOrder)
  await expectCountsStand()
})

it('a photo of true time that meets a clock a day behind is kept, in doubt, and in no count', async () => {
  service.setClock(DAY_BEFORE)
  expect((await send('ahead', { 'X-Taken-At': TRUE })).status).toBe(201)
  service.setClock(TRUE)
  expect((await send('right', { 'X-Taken-At': TRUE })).status).toBe(201)
  expect((await service.tell('/api/heartbeats', camera, { at: DAY_BEFORE })).status).toBe(201)
  await service.waitUntilRead()
  expect((await stills()).map((row) => row.clock_doubt)).toEqual(['the clock is in the future', null])
  await expectCountsStand()
})

it('tries again in the middle of which the clock jumps come to their end', async () => {
  expect((await send('FAULT 1')).status).toBe(201)
  expect((await send('SLOW 1')).status).toBe(201)
  for (const clock of [DAY_BEFORE, TWO_DAYS_ON, TRUE]) {
    const before = service.log.length
    service.setClock(clock)
    expect((await send(`beside ${clock}`)).status).toBe(201)
    await until('a try failed after the jump', async () => service.log.length > before)
  }
  await service.waitUntilRead()
  const rows = await stills()
  expect(rows.map((row) => row.state)).toEqual(['unreadable', 'done', 'done', 'done', 'done'])
  expect(rows[0]!.reason).toContain('in 4 tries')
  expect(service.house.queue.depth()).toEqual({ waiting: 0, inHand: 0, givenUp: 1 })
  await expectCountsStand()
})

it('a camera is down by what was heard of it up to now, whatever a clock that ran ahead wrote down', async () => {
  expect((await service.tell('/api/heartbeats', camera, {})).status).toBe(201)
  service.setClock(DAY_BEFORE)
  expect(await cameraNow()).toMatchObject({ down: false })
  service.setClock(TWO_DAYS_ON)
  expect(await cameraNow()).toMatchObject({ down: true, lastContactAt: TRUE })
  expect((await service.tell('/api/heartbeats', camera, {})).status).toBe(201)
  expect(await cameraNow()).toMatchObject({ down: false, lastContactAt: TWO_DAYS_ON })

  // The clock is right again, and the camera says nothing more.
  service.setClock('2026-11-25T13:00:00+10:30')
  expect(await cameraNow()).toMatchObject({ down: false, lastContactAt: TRUE })
  service.setClock('2026-11-26T15:00:00+10:30')
  expect(await cameraNow()).toMatchObject({ down: true, lastContactAt: TRUE })
  expect(await rows()).toMatchObject([{ camera: 'down', lastContactAt: TRUE }])
  expect(await keptAggregates(service.house.ledger)).toEqual(await recountFromNothing(service.house.ledger))
})

it('a reading of a clock that ran ahead does not hide what the water does now', async () => {
  for (const [clock, levelPercent] of [
    [DAY_BEFORE, 90],
    [TWO_DAYS_ON, 0],
    [TRUE, 0],
  ] as const) {
    service.setClock(clock)
    expect((await service.tell('/api/levels', camera, { levelPercent })).status).toBe(201)
  }
  expect(await rows()).toMatchObject([{ water: { state: 'dry', at: TRUE } }])
})

it('a photo of a clock that ran ahead does not say that cattle are in to water now', async () => {
  const cattle = await photoOf('cattle')
  service.setClock(TWO_DAYS_ON)
  expect((await service.post('/api/stills', camera, cattle)).status).toBe(201)
  await service.waitUntilRead()
  service.setClock(TRUE)
  expect(await rows()).toMatchObject([{ cattle: { state: 'never seen' }, lastPhoto: null }])
  service.setClock(TWO_DAYS_ON)
  expect(await rows()).toMatchObject([{ cattle: { state: 'in' } }])
})
