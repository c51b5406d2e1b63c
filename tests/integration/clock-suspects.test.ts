/** Clocks found wrong beside other photos: their photos leave every count, and come back once their time is said. */
import { afterEach, beforeEach, expect, it } from 'vitest'
import { doubtJumps, doubtLight } from '../../services/look-after-clocks.ts'
import { parseInstant } from '../../services/station-time.ts'
import { findCamera } from '../../services/store/cameras.ts'
import { placeNext } from '../../services/store/placing.ts'
import { type Result, recordResult } from '../../services/store/results.ts'
import { runOfStills } from '../../services/store/shift-runs.ts'
import { addShift } from '../../services/store/time-shifts.ts'
import type { Instant } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation, seen } from './small-station.ts'

/** Noon at a station at 28 degrees south. */
const NOON = parseInstant('2026-10-10T12:00:00+10:30')
const HOUR_MS = 3_600_000
const at = (hours: number) => (NOON + hours * HOUR_MS) as Instant
let station: SmallStation
beforeEach(async () => {
  station = await openSmallStation()
})
afterEach(() => station.close())

async function placeAll(): Promise<void> {
  while (await placeNext(station.ledger)) {
    // Batch after batch.
  }
  expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
}
const doubts = async () =>
  (await station.ledger.selectFrom('stills').select(['id', 'clock_doubt']).orderBy('id').execute()).map(
    (row) => row.clock_doubt,
  )
async function sayRight(stillId: number, seconds: number): Promise<void> {
  const still = await station.ledger
    .selectFrom('stills')
    .selectAll()
    .where('id', '=', stillId)
    .executeTakeFirstOrThrow()
  const run = await runOfStills(station.ledger, still, 'in doubt')
  await addShift(station.ledger, { run, seconds, stillId, who: 'test', note: null, now: at(100) })
  await placeAll()
}

it('a card whose clock jumped back: what follows is in doubt until its time is said', async () => {
  const [cameraId] = station.cameraIds
  const ids: number[] = []
  for (const [i, hours] of [0, 4, 8, -6000, -5996].entries()) {
    const id = await receive(station, {
      name: `${i}`,
      cameraId,
      at: at(hours),
      fileName: `100MEDIA/IMG_000${i}.JPG`,
    })
    await record(station, id, { camel: 1 })
    ids.push(id)
  }
  // What came in is asked by when it came in; a photo's made-up arrival is its time here.
  await station.ledger
    .updateTable('stills')
    .set({ received_at: new Date(at(9)) })
    .execute()
  expect(await doubtJumps(station.ledger, at(9))).toBe(2)
  await placeAll()
  expect(await doubts()).toEqual([
    null,
    null,
    null,
    expect.stringMatching(/jumped/),
    expect.stringMatching(/jumped/),
  ])
  expect(await doubtJumps(station.ledger, at(9))).toBe(0)
  await sayRight(ids[3]!, 6012 * 3600)
  expect(await doubts()).toEqual([null, null, null, null, null])
  const visits = await station.ledger
    .selectFrom('visits')
    .select('started_at')
    .orderBy('started_at')
    .execute()
  expect(visits.map((row) => row.started_at.getTime())).toEqual([0, 4, 8, 12, 16].map(at))
  // Said once, it is not doubted again.
  expect(await doubtJumps(station.ledger, at(9))).toBe(0)
})

it('a clock half a day out by the light of its photos, at a camera that takes its nights in infra-red', async () => {
  const [cameraId] = station.cameraIds
  const ids: number[] = []
  async function photo(hours: number, colourfulness: number): Promise<void> {
    const id = await receive(station, { name: `${hours}`, cameraId, at: at(hours) })
    const result = { ...seen({ cattle: 1 }), kind: 'seen' as const, colourfulness }
    await recordResult(station.ledger, id, result as Result)
    ids.push(id)
  }
  // A week of noons by day and midnights in infra-red; then the clock is half a day out.
  for (let day = 0; day < 7; day += 1) {
    await photo(24 * day, 60)
    await photo(24 * day + 12, 0)
  }
  const camera = () => findCamera(station.ledger, cameraId)
  expect(await doubtLight(station.ledger, await camera())).toBe(0)
  for (let half = 0; half < 12; half += 1) await photo(24 * 8 + 12 * half, half % 2 === 0 ? 0 : 60)
  expect(await doubtLight(station.ledger, await camera())).toBe(12)
  await placeAll()
  expect((await doubts()).filter((doubt) => doubt !== null)).toHaveLength(12)
  // The owner knows better: it was right, and is asked no more.
  await sayRight(ids[14]!, 0)
  expect(await doubts()).toEqual(Array(26).fill(null))
  expect(await doubtLight(station.ledger, await camera())).toBe(0)
})
