/** New marks, gap or zone: everything is counted again in the background, photo by photo, while others come in. */
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest'
import { startRecounting } from '../../services/queue/recounting.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { recordHeartbeat } from '../../services/store/heartbeats.ts'
import { findRecount, pauseRecount, recountNext } from '../../services/store/recount.ts'
import { readSettings, saveSettings } from '../../services/store/settings.ts'
import { nightRowsOf } from '../../services/tally/night-rows.ts'
import { nightOf } from '../../services/tally/nights.ts'
import { visitsOf } from '../../services/tally/visits.ts'
import { type Instant, SPECIES, type Species, type Tally, type Zone } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

const EVENING = parseInstant('2026-10-02T18:00:00+09:30')
const MINUTE_MS = 60_000
const at = (minutes: number) => (EVENING + minutes * MINUTE_MS) as Instant

let station: SmallStation
let photos: number
beforeEach(async () => {
  station = await openSmallStation()
  photos = 0
})
afterEach(async () => {
  await station.close()
})

interface Marks {
  /** A box at or over it is counted; worth a look from half of it on. */
  readonly count?: number
  readonly gapMinutes?: number
  readonly zone?: string
}

/** Saves new settings, as the owner does in Set-up. */
async function setMarks(own: SmallStation, { count, gapMinutes, zone }: Marks): Promise<void> {
  const before = await readSettings(own.ledger)
  await saveSettings(
    own.ledger,
    {
      ...before,
      visitGapMinutes: gapMinutes ?? before.visitGapMinutes,
      zone: (zone as Zone | undefined) ?? before.zone,
      species:
        count === undefined
          ? []
          : SPECIES.map((species) => ({ species, countThreshold: count, flagThreshold: count / 2 })),
    },
    { count: 0.5, flag: 0.35 },
  )
}

async function photo(minutes: number, tally: Tally, score = 0.9, own = station): Promise<number> {
  photos += 1
  const id = await receive(own, { name: `photo ${photos}`, cameraId: own.cameraIds[0], at: at(minutes) })
  await record(own, id, tally, score)
  return id
}

async function recountAll(own = station): Promise<number> {
  let batches = 0
  while (await recountNext(own.ledger)) batches += 1
  return batches
}

/** Visits and nights as the sightings that stand now make them. */
async function expectVisitsOfSightings(): Promise<void> {
  const { zone, visitGapMinutes } = await readSettings(station.ledger)
  const kept = await keptAggregates(station.ledger)
  for (const species of SPECIES) {
    const rows = await station.ledger
      .selectFrom('sightings')
      .selectAll()
      .where('species', '=', species)
      .execute()
    const sightings = rows.map((row) => ({
      stillId: row.still_id,
      at: row.taken_at.getTime() as Instant,
      head: row.head,
      score: row.score,
    }))
    const visits = visitsOf(sightings, visitGapMinutes)
    const ofSpecies = (row: object) => 'species' in row && row.species === species
    expect(kept.visits.filter(ofSpecies)).toMatchObject(
      visits.map(({ peak, photos: count, startedAt, bestStillId }) => ({
        peak,
        photos: count,
        started_at: startedAt,
        best: bestStillId,
      })),
    )
    const nights = nightRowsOf({ sightings, visits, zone })
    expect(kept.nights.filter(ofSpecies)).toMatchObject(
      nights.map(({ night, visits: count, least }) => ({ night, visits: count, least })),
    )
  }
}

describe('a change of marks', () => {
  it('is followed by the counts of every photo, and they equal a count from nothing', async () => {
    await photo(0, { camel: 3 }, 0.55)
    await photo(10, { camel: 1 }, 0.9)
    await photo(300, { camel: 2 }, 0.3)
    await setMarks(station, { count: 0.6 })
    expect(await findRecount(station.ledger)).toMatchObject({ state: 'running', total: 3, done: 0 })
    await recountAll()
    expect(await findRecount(station.ledger)).toBeNull()
    const { visits } = await keptAggregates(station.ledger)
    expect(visits).toMatchObject([{ species: 'camel', peak: 1, photos: 1 }])
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    await setMarks(station, { count: 0.25 })
    await recountAll()
    expect((await keptAggregates(station.ledger)).visits).toHaveLength(2)
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
  })

  it('that no count depends on asks for no counting again', async () => {
    await photo(0, { camel: 3 })
    const before = await readSettings(station.ledger)
    await saveSettings(
      station.ledger,
      { ...before, name: 'Another name', cattleAwayHours: 48, species: [] },
      { count: 0.5, flag: 0.35 },
    )
    expect(await findRecount(station.ledger)).toBeNull()
    expect(await recountNext(station.ledger)).toBe(false)
  })

  it('leaves an agreed count as the person saw it', async () => {
    const id = await photo(0, { camel: 3 }, 0.55)
    await recordChecks(station.ledger, {
      words: [{ stillId: id, verdict: 'agreed' }],
      who: 'test',
      at: at(600),
    })
    await setMarks(station, { count: 0.8 })
    await recountAll()
    expect((await keptAggregates(station.ledger)).visits).toMatchObject([{ species: 'camel', peak: 3 }])
    expect(await station.ledger.selectFrom('stills').select('checked').execute()).toEqual([{ checked: true }])
  })

  it('goes on in batches, the newest photos first, and after each batch every visit is that of its photos', async () => {
    for (let minutes = 0; minutes < 100; minutes += 1) await photo(minutes * 20, { camel: 2 }, 0.55)
    await setMarks(station, { count: 0.6 })
    const left: number[][] = []
    while (await recountNext(station.ledger)) {
      await expectVisitsOfSightings()
      const rows = await station.ledger.selectFrom('sightings').select('taken_at').execute()
      left.push(rows.map((row) => row.taken_at.getTime()).sort((a, b) => a - b))
    }
    expect(left.length).toBeGreaterThan(3)
    // What still stands by the old marks is the oldest part of them all.
    const all = Array.from({ length: 100 }, (_, index) => at(index * 20) as number)
    for (const times of left) expect(times).toEqual(all.slice(0, times.length))
    expect(left[0]!.length).toBeGreaterThan(0)
    expect(left.at(-1)).toEqual([])
  }, 120_000)

  it('goes on where it was after a kill', async () => {
    for (let minutes = 0; minutes < 60; minutes += 1) await photo(minutes * 40, { camel: 1 }, 0.55)
    await setMarks(station, { count: 0.6 })
    await recountNext(station.ledger)
    const before = await findRecount(station.ledger)
    expect(before).toMatchObject({ state: 'running', total: 60 })
    expect(before!.done).toBeGreaterThan(0)
    // Another service on the same database knows of it without being told.
    const recounting = startRecounting(station.ledger, { log: () => undefined })
    onTestFinished(() => recounting.stop())
    await vi.waitFor(async () => expect(await findRecount(station.ledger)).toBeNull(), { timeout: 40_000 })
    expect((await keptAggregates(station.ledger)).visits).toEqual([])
  }, 120_000)

  it('two services at once count it once', async () => {
    for (let minutes = 0; minutes < 60; minutes += 1) await photo(minutes * 40, { camel: 1 }, 0.55)
    await setMarks(station, { count: 0.6 })
    await Promise.all([recountAll(), recountAll(), recountAll()])
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    expect(await findRecount(station.ledger)).toBeNull()
    const row = await station.ledger.selectFrom('recount').select(['done', 'total']).executeTakeFirst()
    expect(row).toEqual({ done: 60, total: 60 })
  }, 120_000)

  it('waits while it is paused, also over another change, and then goes on with the latest marks', async () => {
    await photo(0, { camel: 3 }, 0.55)
    await expect(pauseRecount(station.ledger, true)).rejects.toThrow(/Nothing is being counted/)
    await setMarks(station, { count: 0.6 })
    await pauseRecount(station.ledger, true)
    expect(await recountNext(station.ledger)).toBe(false)
    await setMarks(station, { count: 0.58 })
    expect(await findRecount(station.ledger)).toMatchObject({ state: 'paused', done: 0 })
    expect((await keptAggregates(station.ledger)).visits).toHaveLength(1)
    await pauseRecount(station.ledger, false)
    await recountAll()
    expect((await keptAggregates(station.ledger)).visits).toEqual([])
  })

  it('made again while the first is under way begins anew', async () => {
    for (let minutes = 0; minutes < 60; minutes += 1) await photo(minutes * 40, { camel: 1 }, 0.55)
    await setMarks(station, { count: 0.6 })
    await recountNext(station.ledger)
    await setMarks(station, { count: 0.5 })
    expect(await findRecount(station.ledger)).toMatchObject({ done: 0, total: 60 })
    await recountAll()
    expect((await keptAggregates(station.ledger)).visits).toHaveLength(60)
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
  }, 120_000)
})

it('a new gap groups the same photos into other visits; a visit that is the same keeps its id', async () => {
  await photo(0, { camel: 1 })
  await photo(40, { camel: 2 })
  await photo(500, { camel: 1 })
  const idAt = async (minutes: number) =>
    (
      await station.ledger
        .selectFrom('visits')
        .select('id')
        .where('started_at', '=', new Date(at(minutes)))
        .executeTakeFirst()
    )?.id
  const [first, last] = [await idAt(0), await idAt(500)]
  await setMarks(station, { gapMinutes: 60 })
  await recountAll()
  expect((await keptAggregates(station.ledger)).visits).toMatchObject([
    { peak: 2, photos: 2 },
    { peak: 1, photos: 1 },
  ])
  expect([await idAt(0), await idAt(500)]).toEqual([first, last])
  await setMarks(station, { gapMinutes: 10 })
  await recountAll()
  expect(await idAt(0)).toBe(first)
  expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
})

it('a new zone moves photos and visits to the nights they belong to there', async () => {
  // 11:45 in Adelaide is 09:15 in Perth; 13:00 in Adelaide is 11:30 in Perth, still the night before.
  const morning = await photo((17 * 60 + 45) as number, { camel: 1 })
  const noon = await photo(19 * 60, { camel: 2 })
  const nightOfStill = async (id: number) =>
    (await station.ledger.selectFrom('stills').select('night').where('id', '=', id).executeTakeFirst())?.night
  expect([await nightOfStill(morning), await nightOfStill(noon)]).toEqual(['2026-10-02', '2026-10-03'])
  await setMarks(station, { zone: 'Australia/Perth' })
  await recountAll()
  expect(await nightOfStill(noon)).toBe(nightOf(at(19 * 60), 'Australia/Perth' as Zone))
  expect([await nightOfStill(morning), await nightOfStill(noon)]).toEqual(['2026-10-02', '2026-10-02'])
  expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
})

describe('whatever happens while it goes on', () => {
  const tally = fc.dictionary(
    fc.constantFrom<Species>('cattle', 'camel', 'goat'),
    fc.integer({ min: 1, max: 3 }),
    { maxKeys: 2, noNullPrototype: true },
  )
  const minutes = fc.integer({ min: 0, max: 4 * 1440 }).map((some) => Math.round(some / 15) * 15)
  const event = fc.oneof(
    {
      weight: 6,
      arbitrary: fc.record({
        kind: fc.constant('photo' as const),
        minutes,
        tally,
        score: fc.constantFrom(0.4, 0.55, 0.7, 0.9),
      }),
    },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant('heartbeat' as const), minutes }) },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constant('word' as const),
        which: fc.nat(),
        verdict: fc.constantFrom('agreed' as const, 'corrected' as const, 'withdrawn' as const),
        counts: tally,
      }),
    },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constant('marks' as const),
        marks: fc.oneof(
          fc.record({ count: fc.constantFrom(0.35, 0.5, 0.6, 0.8) }),
          fc.record({ gapMinutes: fc.constantFrom(10, 30, 90) }),
          fc.record({ zone: fc.constantFrom('Australia/Perth', 'Australia/Adelaide', 'Pacific/Auckland') }),
        ),
      }),
    },
    { weight: 4, arbitrary: fc.record({ kind: fc.constant('batch' as const) }) },
  )

  it('the counts at its end equal a count from nothing', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(event, { minLength: 8, maxLength: 30 }), async (events) => {
        const own = await openSmallStation()
        try {
          const ids: number[] = []
          for (const one of events) {
            if (one.kind === 'photo') ids.push(await photo(one.minutes, one.tally, one.score, own))
            if (one.kind === 'marks') await setMarks(own, one.marks)
            if (one.kind === 'batch') await recountNext(own.ledger)
            if (one.kind === 'heartbeat') {
              await recordHeartbeat(own.ledger, {
                cameraId: own.cameraIds[0],
                pointId: own.pointId,
                at: at(one.minutes),
                receivedAt: at(one.minutes),
                batteryPercent: null,
                temperatureC: null,
                signalPercent: null,
                freeBytes: null,
              })
            }
            if (one.kind === 'word' && ids.length > 0) {
              const { verdict, counts } = one
              const stillId = ids[one.which % ids.length]!
              const word = { stillId, verdict, ...(verdict === 'corrected' && { counts }) }
              await recordChecks(own.ledger, { words: [word], who: 'test', at: at(9999) })
            }
          }
          await recountAll(own)
          expect(await keptAggregates(own.ledger)).toEqual(await recountFromNothing(own.ledger))
        } finally {
          await own.close()
        }
      }),
      { numRuns: 12 },
    )
  }, 240_000)

  it('photos recorded and checked at the very moment are counted right', async () => {
    for (let minutes = 0; minutes < 40; minutes += 1) await photo(minutes * 25, { camel: 1 }, 0.55)
    const fresh = await Promise.all(
      Array.from({ length: 20 }, (_, index) =>
        receive(station, {
          name: `fresh ${index}`,
          cameraId: station.cameraIds[1],
          at: at(index * 50 + 7),
        }),
      ),
    )
    const old = await station.ledger
      .selectFrom('stills')
      .select('id')
      .where('state', '=', 'done')
      .limit(10)
      .execute()
    await Promise.all([
      setMarks(station, { count: 0.6 }).then(() => recountAll()),
      ...fresh.map((id, index) => record(station, id, { camel: 2 }, index % 2 === 0 ? 0.55 : 0.9)),
      ...old.map(({ id }) =>
        recordChecks(station.ledger, {
          words: [{ stillId: id, verdict: 'corrected', counts: { goat: 1 } }],
          who: 'test',
          at: at(9999),
        }),
      ),
    ])
    await recountAll()
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
  }, 120_000)
})

it('the marks and the counting again that is due are written in one step', async () => {
  await photo(0, { camel: 1 }, 0.55)
  // A ledger that cannot write the one must not keep the other.
  await station.ledger.schema.alterTable('recount_points').renameTo('recount_points_away').execute()
  await expect(setMarks(station, { count: 0.6 })).rejects.toThrow()
  await station.ledger.schema.alterTable('recount_points_away').renameTo('recount_points').execute()
  expect((await readSettings(station.ledger)).thresholds.camel.count).toBe(0.5)
  expect(await findRecount(station.ledger)).toBeNull()
})
