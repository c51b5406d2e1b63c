/** Times put right: everything follows a shift and an undo, whatever came before, and a kill in the middle loses nothing. */
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { changeTimes, listTimeChanges } from '../../services/store/camera-times.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { recordHeartbeat } from '../../services/store/heartbeats.ts'
import { openLedger } from '../../services/store/open.ts'
import { listPlacing, placeNext } from '../../services/store/placing.ts'
import { addPoint } from '../../services/store/points.ts'
import { runOfStills, type ShiftRun, viewRun } from '../../services/store/shift-runs.ts'
import { addShift, listShifts, undoShift } from '../../services/store/time-shifts.ts'
import type { Instant, Tally } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

const EVENING = parseInstant('2026-10-02T18:00:00+09:30')
const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
const DAY_SECONDS = 86_400
const at = (minutes: number) => (EVENING + minutes * MINUTE_MS) as Instant

let station: SmallStation & { readonly url: string }
beforeEach(async () => {
  station = await openSmallStation()
})
afterEach(() => station.close())

async function photo(
  minutes: number,
  tally: Tally,
  { own = station, camera = 0, doubt }: { own?: SmallStation; camera?: 0 | 1; doubt?: string } = {},
): Promise<number> {
  const cameraId = own.cameraIds[camera]
  const name = `${camera} ${minutes} ${doubt ?? ''}`
  const id = await receive(own, { name, cameraId, at: at(minutes), ...(doubt && { clockDoubt: doubt }) })
  await record(own, id, tally)
  return id
}

const stillNow = (id: number, own: SmallStation = station) =>
  own.ledger.selectFrom('stills').selectAll().where('id', '=', id).executeTakeFirstOrThrow()

async function shift(
  stillId: number,
  run: ShiftRun,
  seconds: number,
  own: SmallStation = station,
): Promise<number> {
  const stills = await runOfStills(own.ledger, await stillNow(stillId, own), run)
  return await addShift(own.ledger, { run: stills, seconds, stillId, who: 'test', note: null, now: NOW })
}

async function placeAll(own: SmallStation = station): Promise<number> {
  let batches = 0
  while (await placeNext(own.ledger)) batches += 1
  return batches
}

async function expectCountsStand(own: SmallStation = station): Promise<void> {
  expect(await keptAggregates(own.ledger)).toEqual(await recountFromNothing(own.ledger))
}

/** Everything that says when a photo was taken and what is counted from it, without the numbers of rows. */
async function everything(own: SmallStation = station): Promise<object> {
  const stills = await own.ledger.selectFrom('stills').selectAll().orderBy('id').execute()
  const sightings = await own.ledger
    .selectFrom('sightings')
    .selectAll()
    .orderBy('still_id')
    .orderBy('species')
    .execute()
  const cameras = await own.ledger
    .selectFrom('cameras')
    .select(['id', 'last_contact_at'])
    .orderBy('id')
    .execute()
  return { stills, sightings, cameras, kept: await keptAggregates(own.ledger) }
}

describe('a shift', () => {
  it('moves a run of photos with their visits, nights and watched time, and undone it leaves no trace', async () => {
    const first = await photo(0, { camel: 3 })
    await photo(20, { camel: 1 })
    await photo(60 * 30, { cattle: 2 })
    const other = await photo(10, { camel: 5 }, { camera: 1 })
    const before = await everything()
    const id = await shift(first, 'all', -DAY_SECONDS)
    await placeAll()
    await expectCountsStand()
    expect((await stillNow(first)).taken_at.getTime()).toBe(at(-24 * 60))
    expect((await stillNow(first)).said_at?.getTime()).toBe(at(0))
    expect((await stillNow(first)).night).toBe('2026-10-01')
    // The other camera at the point keeps its own clock.
    expect((await stillNow(other)).said_at).toBeNull()
    await undoShift(station.ledger, id, { who: 'test', note: null, now: NOW })
    await placeAll()
    expect(await everything()).toEqual(before)
    expect(await listShifts(station.ledger)).toMatchObject([{ id, seconds: -DAY_SECONDS, undone_by: 'test' }])
  })

  it('of no seconds says that a clock in doubt was right: its photos are counted', async () => {
    const sure = await photo(0, { camel: 1 })
    const doubted = await photo(200, { camel: 2 }, { doubt: 'the clock is in the future' })
    await photo(400, { camel: 4 })
    const id = await shift(doubted, 'in doubt', 0)
    expect(await listShifts(station.ledger)).toMatchObject([{ photos: 1 }])
    await placeAll()
    expect(await stillNow(doubted)).toMatchObject({
      clock_doubt: null,
      own_doubt: 'the clock is in the future',
    })
    await expectCountsStand()
    await undoShift(station.ledger, id, { who: 'test', note: null, now: NOW })
    await placeAll()
    expect((await stillNow(doubted)).clock_doubt).toBe('the clock is in the future')
    expect((await stillNow(sure)).clock_doubt).toBeNull()
    await expectCountsStand()
  })

  it('does not reach photos that come in after it', async () => {
    const first = await photo(0, { camel: 1 })
    await photo(100, { camel: 1 })
    await shift(first, 'all', 3600)
    const later = await photo(50, { camel: 1 })
    await placeAll()
    expect((await stillNow(later)).taken_at.getTime()).toBe(at(50))
    await expectCountsStand()
  })

  it('keeps what people said with its photos', async () => {
    const id = await photo(0, { camel: 3 })
    const words = [{ stillId: id, verdict: 'corrected' as const, counts: { camel: 7 } }]
    await recordChecks(station.ledger, { words, who: 'test', at: NOW })
    await shift(id, 'photo', 2 * DAY_SECONDS)
    await placeAll()
    const visits = await station.ledger.selectFrom('visits').selectAll().execute()
    expect(visits).toMatchObject([{ species: 'camel', peak: 7, night: '2026-10-04' }])
    await expectCountsStand()
  })

  it('says before it is made what it would do', async () => {
    const first = await photo(0, { camel: 3 })
    const last = await photo(300, {}, { doubt: 'the clock is in the future' })
    const run = await runOfStills(station.ledger, await stillNow(first), 'all')
    expect(await viewRun(station.ledger, run, 60)).toMatchObject({
      first: { id: first },
      last: { id: last },
      inDoubt: 1,
      inDoubtAfter: 0,
    })
  })

  it('chooses the run that was asked for', async () => {
    const ids: number[] = []
    for (const minutes of [0, 100, 200, 300])
      ids.push(await photo(minutes, {}, minutes === 100 || minutes === 200 ? { doubt: 'factory' } : {}))
    const photosOf = async (run: ShiftRun, id: number) =>
      (await runOfStills(station.ledger, await stillNow(id), run)).photos
    expect(await photosOf('photo', ids[1]!)).toBe(1)
    expect(await photosOf('in doubt', ids[1]!)).toBe(2)
    expect(await photosOf('from here', ids[1]!)).toBe(3)
    expect(await photosOf('up to here', ids[1]!)).toBe(2)
    expect(await photosOf('all', ids[1]!)).toBe(4)
    expect(await photosOf('at this point', ids[1]!)).toBe(4)
  })

  it('killed in the middle goes on where it was, and loses nothing', async () => {
    let first = 0
    for (let minutes = 0; minutes < 250; minutes += 1) {
      const id = await photo(minutes * 3, { cattle: 1 + (minutes % 3) })
      if (minutes === 0) first = id
    }
    await shift(first, 'all', 5 * 3600)
    expect(await placeNext(station.ledger)).toBe(true)
    expect(await listPlacing(station.ledger)).toMatchObject([{ total: 250, done: 100 }])
    // Halfway what is kept equals a count from nothing too.
    await expectCountsStand()
    // A service that is started anew has nothing but the ledger.
    const anew = await openLedger(station.url)
    try {
      while (await placeNext(anew)) {
        // Batch after batch.
      }
    } finally {
      await anew.destroy()
    }
    expect(await listPlacing(station.ledger)).toEqual([])
    const unmoved = await station.ledger
      .selectFrom('stills')
      .select('id')
      .where('said_at', 'is', null)
      .execute()
    expect(unmoved).toEqual([])
    await expectCountsStand()
  }, 120_000)
})

describe('whatever is shifted and undone, in any order', () => {
  it('equals a count from nothing, and all undone equals what was', async () => {
    const photos = fc.uniqueArray(
      fc.record({
        minutes: fc.integer({ min: 0, max: 4000 }),
        camera: fc.constantFrom<0 | 1>(0, 1),
        head: fc.integer({ min: 0, max: 3 }),
        doubtful: fc.boolean(),
      }),
      { selector: ({ minutes }) => minutes, minLength: 2, maxLength: 8 },
    )
    const shifts = fc.array(
      fc.record({
        which: fc.nat(),
        run: fc.constantFrom<ShiftRun>('photo', 'in doubt', 'from here', 'up to here', 'all'),
        seconds: fc.integer({ min: -200_000, max: 200_000 }),
        batches: fc.nat(1),
      }),
      { minLength: 1, maxLength: 4 },
    )
    await fc.assert(
      fc.asyncProperty(photos, shifts, async (some, moves) => {
        const own = await openSmallStation()
        try {
          const ids: number[] = []
          for (const { minutes, camera, head, doubtful } of some) {
            const tally = head === 0 ? {} : { camel: head }
            ids.push(await photo(minutes, tally, { own, camera, ...(doubtful && { doubt: 'in doubt' }) }))
          }
          const [cameraId] = own.cameraIds
          const beat = { cameraId, pointId: own.pointId, at: at(30), receivedAt: at(30) }
          const nothing = { batteryPercent: null, temperatureC: null, signalPercent: null, freeBytes: null }
          await recordHeartbeat(own.ledger, { ...beat, ...nothing })
          const before = await everything(own)
          const made: number[] = []
          for (const { which, run, seconds, batches } of moves) {
            made.push(await shift(ids[which % ids.length]!, run, seconds, own))
            // The next may come while this one is under way.
            for (let i = 0; i < batches; i += 1) await placeNext(own.ledger)
          }
          await placeAll(own)
          await expectCountsStand(own)
          for (const id of made) await undoShift(own.ledger, id, { who: 'test', note: null, now: NOW })
          await placeAll(own)
          expect(await everything(own)).toEqual(before)
        } finally {
          await own.close()
        }
      }),
      { numRuns: 12 },
    )
  }, 240_000)
})

describe('a camera’s times', () => {
  const second = () =>
    addPoint(station.ledger, {
      name: 'Second Bore',
      kind: 'bore',
      lat: -28.2,
      lon: 134.2,
      hasYard: false,
      lowMarkPercent: 40,
      dryMarkPercent: 5,
    })
  const change = { who: 'test', note: null, now: NOW }

  it('changed later take its photos and what was watched along, and what was said before stays in the log', async () => {
    const { id: elsewhere } = await second()
    const early = await photo(0, { camel: 2 })
    const late = await photo(600, { camel: 4 })
    await photo(1500, { cattle: 1 })
    const [cameraId] = station.cameraIds
    const times = [
      { pointId: station.pointId, from: at(-60), to: at(300) },
      { pointId: elsewhere, from: at(300), to: null },
    ]
    await changeTimes(station.ledger, cameraId, { ...change, times })
    await placeAll()
    expect((await stillNow(early)).point_id).toBe(station.pointId)
    expect((await stillNow(late)).point_id).toBe(elsewhere)
    await expectCountsStand()
    expect((await listTimeChanges(station.ledger, cameraId))[0]).toMatchObject({
      before: [{ pointId: station.pointId, from: null, to: null }],
      after: [{ pointId: station.pointId }, { pointId: elsewhere, to: null }],
    })
    await changeTimes(station.ledger, cameraId, {
      ...change,
      times: [{ pointId: station.pointId, from: null, to: null }],
    })
    await placeAll()
    expect((await stillNow(late)).point_id).toBe(station.pointId)
    await expectCountsStand()
  })

  it('put photos from before and after them in doubt, and out of it again', async () => {
    const early = await photo(0, { camel: 2 })
    const late = await photo(3000, { camel: 4 })
    const [cameraId] = station.cameraIds
    const time = { pointId: station.pointId, from: at(60), to: at(2000) }
    await changeTimes(station.ledger, cameraId, { ...change, times: [time] })
    await placeAll()
    expect((await stillNow(early)).clock_doubt).toBe('before the camera was put up')
    expect((await stillNow(late)).clock_doubt).toBe('after the camera was taken down')
    await expectCountsStand()
    const whole = { ...time, from: null, to: null }
    await changeTimes(station.ledger, cameraId, { ...change, times: [whole] })
    await placeAll()
    expect((await stillNow(early)).clock_doubt).toBeNull()
    await expectCountsStand()
  })

  it.each([
    ['none', []],
    ['taken down before put up', [[100, 0]]],
    [
      'at two points at once',
      [
        [0, null],
        [50, null],
      ],
    ],
    [
      'put up there before taken down here',
      [
        [0, 100],
        [50, null],
      ],
    ],
  ] as const)('are refused when they are mixed up: %s', async (_what, spells) => {
    const times = spells.map(([from, to]) => ({
      pointId: station.pointId,
      from: at(from),
      to: to === null ? null : at(to),
    }))
    await expect(changeTimes(station.ledger, station.cameraIds[0], { ...change, times })).rejects.toThrow(
      /The camera’s times/,
    )
  })

  it('that change while a photo is on its way find the photo too', async () => {
    const { id: elsewhere } = await second()
    const [cameraId] = station.cameraIds
    const { times_version: version } = await station.ledger
      .selectFrom('cameras')
      .select('times_version')
      .where('id', '=', cameraId)
      .executeTakeFirstOrThrow()
    await changeTimes(station.ledger, cameraId, {
      ...change,
      times: [{ pointId: elsewhere, from: null, to: null }],
    })
    await placeAll()
    // Placed by the times of before, and written down after.
    const id = await receive(station, { name: 'late', cameraId, at: at(0), timesVersion: version })
    await record(station, id, { camel: 1 })
    await placeAll()
    expect((await stillNow(id)).point_id).toBe(elsewhere)
    await expectCountsStand()
  })

  it('of a camera without a daily sign of life change what was watched far away as well', async () => {
    const first = await photo(0, { camel: 1 }, { camera: 1 })
    await photo(3 * 24 * 60, { camel: 1 }, { camera: 1 })
    await shift(first, 'photo', -20 * DAY_SECONDS)
    await placeAll()
    await expectCountsStand()
    const { effort } = await keptAggregates(station.ledger)
    expect(effort.length).toBeGreaterThan(20)
  })

  it('do not make a gap wider than the camera may be silent count as watched', async () => {
    const first = await photo(0, {})
    await photo(20 * 60, {})
    await shift(first, 'photo', -((30 * HOUR_MS) / 1000))
    await placeAll()
    await expectCountsStand()
    expect((await keptAggregates(station.ledger)).effort).toEqual([])
  })
})
