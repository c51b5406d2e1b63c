/** The ledger keeps what stills come to: whatever the order, however often, it equals a count from nothing. */
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { addCamera, changeCamera } from '../../services/store/camera-setup.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { recordHeartbeat } from '../../services/store/heartbeats.ts'
import { openLedger } from '../../services/store/open.ts'
import { addPoint } from '../../services/store/points.ts'
import { recountStation } from '../../services/store/recount.ts'
import { recordResult, recordResults } from '../../services/store/results.ts'
import type { Instant, Species, Tally } from '../../services/words.ts'
import { freshDatabase } from './fresh-database.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import {
  models,
  openSmallStation,
  receive,
  receiveAll,
  record,
  type SmallStation,
  seen,
} from './small-station.ts'

const evening = parseInstant('2026-10-02T18:00:00+09:30')
const MINUTE = 60_000
const minutesLater = (minutes: number) => (evening + minutes * MINUTE) as Instant

let station: SmallStation
beforeEach(async () => {
  station = await openSmallStation()
})
afterEach(async () => {
  await station.close()
})

const visitsOf = async (species: Species) =>
  (
    await station.ledger
      .selectFrom('visits')
      .selectAll()
      .where('species', '=', species)
      .orderBy('started_at')
      .execute()
  ).map(({ peak, photos, night }) => ({ peak, photos, night }))

async function take(minutes: number, tally: Tally, cameraId = station.cameraIds[0]): Promise<number> {
  const at = minutesLater(minutes)
  const id = await receive(station, { name: `${cameraId} ${minutes}`, cameraId, at })
  await record(station, id, tally)
  return id
}

describe('visits and nights', () => {
  it('a still between two visits joins them into one, whose peak is the largest of its stills', async () => {
    await take(0, { camel: 3 })
    await take(50, { camel: 5 })
    expect(await visitsOf('camel')).toEqual([
      { peak: 3, photos: 1, night: '2026-10-02' },
      { peak: 5, photos: 1, night: '2026-10-02' },
    ])
    await take(25, { camel: 1 })
    expect(await visitsOf('camel')).toEqual([{ peak: 5, photos: 3, night: '2026-10-02' }])
  })

  it('two cameras that see the same animals are never added up', async () => {
    await take(0, { horse: 4 }, station.cameraIds[0])
    await take(1, { horse: 3 }, station.cameraIds[1])
    expect(await visitsOf('horse')).toEqual([{ peak: 4, photos: 2, night: '2026-10-02' }])
  })

  it('a visit keeps its id while stills join it, so that a link to it goes on working', async () => {
    await take(0, { camel: 1 })
    const [before] = await station.ledger.selectFrom('visits').select('id').execute()
    await take(20, { camel: 2 })
    await take(-20, { camel: 2 })
    expect(await station.ledger.selectFrom('visits').select('id').execute()).toEqual([before])
  })

  it('a still whose clock is in doubt is kept with its boxes, and is in no visit', async () => {
    const id = await receive(station, {
      name: 'doubtful',
      cameraId: station.cameraIds[0],
      at: evening,
      clockDoubt: 'before the camera was put up',
    })
    await record(station, id, { camel: 2 })
    expect(await visitsOf('camel')).toEqual([])
    expect(await station.ledger.selectFrom('detections').select('id').execute()).toHaveLength(2)
    expect(await station.ledger.selectFrom('effort').selectAll().execute()).toEqual([])
  })
})

describe('the same bytes twice in one go', () => {
  it('are one photo, at its camera too', async () => {
    const one = { name: 'one', cameraId: station.cameraIds[0], at: evening }
    const received = await receiveAll(station, [one, one])
    expect(received.map(({ known }) => known)).toEqual([false, true])
    const camera = await station.ledger
      .selectFrom('cameras')
      .select(['stills', 'still_bytes'])
      .where('id', '=', station.cameraIds[0])
      .executeTakeFirstOrThrow()
    expect(camera).toEqual({ stills: 1, still_bytes: one.name.length })
  })
})

describe('recording a result', () => {
  it('twice leaves one result, also when two workers do it at once', async () => {
    const id = await receive(station, { name: 'one', cameraId: station.cameraIds[0], at: evening })
    const said = await Promise.all([record(station, id, { camel: 2 }), record(station, id, { camel: 2 })])
    expect(said.sort()).toEqual(['already', 'recorded'])
    expect(await record(station, id, { donkey: 7 })).toBe('already')
    expect(await station.ledger.selectFrom('detections').select('id').execute()).toHaveLength(2)
    expect(await visitsOf('camel')).toEqual([{ peak: 2, photos: 1, night: '2026-10-02' }])
  })

  it('of several stills at once, and one of them fails: none is written, and each alone still can be', async () => {
    const [first, second] = await receiveAll(station, [
      { name: 'first', cameraId: station.cameraIds[0], at: evening },
      { name: 'second', cameraId: station.cameraIds[0], at: evening },
    ])
    const good = { stillId: first!.id, result: seen({ camel: 2 }) }
    const bad = { stillId: second!.id, result: { ...seen({ camel: 1 }), width: 1e20 } }
    await expect(recordResults(station.ledger, [good, bad])).rejects.toThrow()
    expect(await recordResults(station.ledger, [good])).toEqual(['recorded'])
  })

  it('of a still that a person removed meanwhile does nothing', async () => {
    const id = await receive(station, { name: 'one', cameraId: station.cameraIds[0], at: evening })
    await station.ledger.deleteFrom('stills').where('id', '=', id).execute()
    expect(await record(station, id, { camel: 2 })).toBe('gone')
    expect(await station.ledger.selectFrom('visits').selectAll().execute()).toEqual([])
  })

  it('keeps every box with both models’ scores and hashes, embeddings of flagged stills alone', async () => {
    const flagged = await receive(station, { name: 'camels', cameraId: station.cameraIds[0], at: evening })
    const plain = await receive(station, {
      name: 'cattle',
      cameraId: station.cameraIds[0],
      at: minutesLater(5),
    })
    await record(station, flagged, { camel: 1 })
    await record(station, plain, { cattle: 2 })
    const boxes = await station.ledger
      .selectFrom('detections')
      .innerJoin('stills', 'stills.id', 'detections.still_id')
      .innerJoin('models', 'models.id', 'stills.model_id')
      .leftJoin('embeddings', 'embeddings.detection_id', 'detections.id')
      .select(['detections.still_id', 'detector', 'namer', 'detector_sha256', 'namer_sha256', 'half'])
      .orderBy('detections.id')
      .execute()
    expect(boxes.map((box) => box.half?.length ?? null)).toEqual([2560, null, null])
    expect(boxes.map((box) => [box.detector.length, box.namer?.length])).toEqual([
      [6, 6],
      [6, 6],
      [6, 6],
    ])
    expect(boxes.every((box) => box.detector_sha256 === models.detectorSha256)).toBe(true)
    // Half precision: 0.5 is 0x3800, little-endian (IEEE 754-2008, binary16).
    expect(boxes[0]?.half?.subarray(0, 2)).toEqual(Buffer.from([0x00, 0x38]))
  })

  it('as unreadable keeps the reason, and the camera counts it', async () => {
    const id = await receive(station, { name: 'bad', cameraId: station.cameraIds[0], at: evening })
    await recordResult(station.ledger, id, { kind: 'unreadable', reason: 'cut short' })
    await recordResult(station.ledger, id, { kind: 'unreadable', reason: 'cut short' })
    expect(await station.ledger.selectFrom('stills').select(['state', 'reason']).execute()).toEqual([
      { state: 'unreadable', reason: 'cut short' },
    ])
    const camera = await station.ledger
      .selectFrom('cameras')
      .select(['stills', 'unreadable'])
      .where('id', '=', station.cameraIds[0])
      .executeTakeFirst()
    expect(camera).toEqual({ stills: 1, unreadable: 1 })
  })

  it('the same bytes from the same camera are the same still; from another camera they are not', async () => {
    const still = { name: 'same', cameraId: station.cameraIds[0], at: evening }
    const ids = await Promise.all([receive(station, still), receive(station, still), receive(station, still)])
    expect(new Set(ids).size).toBe(1)
    expect(await receive(station, { ...still, cameraId: station.cameraIds[1] })).not.toBe(ids[0])
  })
})

describe('checks', () => {
  const say = (words: Parameters<typeof recordChecks>[1]['words']) =>
    recordChecks(station.ledger, { words, who: 'test', at: minutesLater(600) })

  it('a corrected count stands over the machine’s, and visits and nights follow at once', async () => {
    const id = await take(0, { camel: 3 })
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 4, donkey: 1, goat: 0 } }])
    expect(await visitsOf('camel')).toEqual([{ peak: 4, photos: 1, night: '2026-10-02' }])
    expect(await visitsOf('donkey')).toEqual([{ peak: 1, photos: 1, night: '2026-10-02' }])
    expect(await visitsOf('goat')).toEqual([])
  })

  it('the latest word stands, a withdrawn one brings the machine’s count back, and all are kept', async () => {
    const id = await take(0, { camel: 3 })
    await say([{ stillId: id, verdict: 'corrected', counts: {} }])
    expect(await visitsOf('camel')).toEqual([])
    await say([{ stillId: id, verdict: 'withdrawn' }])
    expect(await visitsOf('camel')).toEqual([{ peak: 3, photos: 1, night: '2026-10-02' }])
    const log = await station.ledger.selectFrom('checks').select(['verdict', 'seen']).orderBy('id').execute()
    expect(log.map((row) => row.verdict)).toEqual(['corrected', 'withdrawn'])
    expect(log[0]?.seen).toMatchObject({ models, tally: { camel: 3 }, thresholds: { camel: { count: 0.5 } } })
  })

  it('nobody can change or remove a word, not even by hand in the database', async () => {
    const id = await take(0, { camel: 3 })
    await say([{ stillId: id, verdict: 'agreed' }])
    await expect(station.ledger.updateTable('checks').set({ who: 'other' }).execute()).rejects.toThrow(
      /append-only/,
    )
    await expect(station.ledger.deleteFrom('checks').execute()).rejects.toThrow(/append-only/)
  })

  it('words on several stills are taken all or none', async () => {
    const id = await take(0, { camel: 3 })
    await expect(
      say([
        { stillId: id, verdict: 'agreed' },
        { stillId: 999_999, verdict: 'agreed' },
      ]),
    ).rejects.toThrow(/999999/)
    expect(await station.ledger.selectFrom('checks').select('id').execute()).toEqual([])
  })
})

describe('the kept aggregates equal a recount from nothing', () => {
  const tally = fc.dictionary(
    fc.constantFrom<Species>('cattle', 'camel', 'donkey'),
    fc.integer({ min: 1, max: 4 }),
    { maxKeys: 2, noNullPrototype: true },
  )
  // Minutes about a change of clocks (Adelaide, 4 October 2026, 02:00), dense enough for visits to join and split.
  const event = fc.oneof(
    {
      weight: 6,
      arbitrary: fc.record({
        kind: fc.constant('stills' as const),
        // What comes at once is received at once, and now and then the same bytes twice.
        together: fc.array(
          fc.record({
            minutes: fc.integer({ min: 0, max: 9 * 1440 }).map((at) => Math.round(at / 12) * 12),
            camera: fc.constantFrom(0 as const, 1 as const),
            tally,
          }),
          { minLength: 1, maxLength: 5 },
        ),
        twice: fc.boolean(),
        /** Their results too. */
        atOnce: fc.boolean(),
      }),
    },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constant('heartbeat' as const),
        minutes: fc.integer({ min: 0, max: 9 * 1440 }),
      }),
    },
    {
      weight: 3,
      arbitrary: fc.record({
        kind: fc.constant('word' as const),
        which: fc.nat(),
        verdict: fc.constantFrom('agreed' as const, 'corrected' as const, 'withdrawn' as const),
        counts: tally,
      }),
    },
  )

  it('after any run of stills, heartbeats and checks, in any order', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(event, { minLength: 5, maxLength: 30 }), async (events) => {
        const own = await openSmallStation()
        try {
          const ids: number[] = []
          for (const [index, one] of events.entries()) {
            if (one.kind === 'stills') {
              const stills = one.together.map(({ minutes, camera }, place) => ({
                name: `still ${index} ${place}`,
                cameraId: own.cameraIds[camera],
                at: minutesLater(minutes),
              }))
              const received = await receiveAll(own, one.twice ? [...stills, stills[0]!] : stills)
              expect(received.map(({ known }) => known)).toEqual([
                ...stills.map(() => false),
                ...(one.twice ? [true] : []),
              ])
              const results = one.together.map(({ tally }, place) => ({
                stillId: received[place]!.id,
                result: seen(tally),
              }))
              const again = one.twice ? [results[0]!] : []
              if (one.atOnce) {
                expect(await recordResults(own.ledger, [...results, ...again])).toEqual([
                  ...results.map(() => 'recorded'),
                  ...again.map(() => 'already'),
                ])
              } else
                for (const { stillId, result } of results) await recordResult(own.ledger, stillId, result)
              ids.push(...results.map(({ stillId }) => stillId))
            } else if (one.kind === 'heartbeat') {
              const at = minutesLater(one.minutes)
              await recordHeartbeat(own.ledger, {
                cameraId: own.cameraIds[0],
                pointId: own.pointId,
                at,
                receivedAt: at,
                batteryPercent: null,
                temperatureC: null,
                signalPercent: null,
                freeBytes: null,
              })
            } else if (ids.length > 0) {
              const stillId = ids[one.which % ids.length]!
              const word = {
                stillId,
                verdict: one.verdict,
                ...(one.verdict === 'corrected' && { counts: one.counts }),
              }
              await recordChecks(own.ledger, { words: [word], who: 'test', at: minutesLater(9999) })
            }
          }
          const kept = await keptAggregates(own.ledger)
          expect(kept).toEqual(await recountFromNothing(own.ledger))
          // And the product's own recount, which a change of settings runs, changes nothing that stood.
          await recountStation(own.ledger)
          expect(await keptAggregates(own.ledger)).toEqual(kept)
        } finally {
          await own.close()
        }
      }),
      { numRuns: 12 },
    )
  }, 240_000)
})

it('two services that start at once run the migrations once', async () => {
  const database = await freshDatabase()
  const ledgers = await Promise.all([
    openLedger(database.url),
    openLedger(database.url),
    openLedger(database.url),
  ])
  expect(await ledgers[0]!.selectFrom('points').selectAll().execute()).toEqual([])
  for (const ledger of ledgers) await ledger.destroy()
  await database.drop()
})

describe('a camera with a schedule sets how far apart two visits are', () => {
  const scheduled = { zone: null, clockErrorSeconds: 0, expectedSilenceHours: 26, sendsHeartbeats: true }
  const expectRight = async () =>
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))

  it('from the moment it is put up, and no longer once it is moved away', async () => {
    await take(0, { camel: 1 })
    await take(50, { camel: 2 })
    expect(await visitsOf('camel')).toHaveLength(2)
    const { camera } = await addCamera(
      station.ledger,
      { ...scheduled, name: 'third', pointId: station.pointId, scheduleMinutes: 60 },
      null,
    )
    expect(await visitsOf('camel')).toEqual([{ peak: 2, photos: 2, night: '2026-10-02' }])
    const other = await addPoint(station.ledger, {
      name: 'Second Bore',
      kind: 'bore',
      lat: -28,
      lon: 134,
      hasYard: false,
      runOrder: 2,
      lowMarkPercent: 40,
      dryMarkPercent: 5,
    })
    await changeCamera(station.ledger, camera.id, { change: { pointId: other.id }, now: minutesLater(600) })
    expect(await visitsOf('camel')).toHaveLength(2)
    await expectRight()
  })
})
