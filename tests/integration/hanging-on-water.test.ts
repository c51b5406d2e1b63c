/** A mob that will not leave a water in the heat is flagged, where that is rare there. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import { waterRunRowsOf } from '../../services/http/water-run-row.ts'
import { parseInstant } from '../../services/station-time.ts'
import { learnCattleLimits } from '../../services/store/learn-cattle-limits.ts'
import { readSettings } from '../../services/store/settings.ts'
import { readWaterRun } from '../../services/store/water-run.ts'
import { nightToShow } from '../../services/tally/nights.ts'
import type { Instant, Zone } from '../../services/words.ts'
import { openSmallStation, receiveAll, record, type SmallStation } from './small-station.ts'

const MINUTE = 60_000
const DAY = 1440 * MINUTE
const zone = 'Australia/Adelaide' as Zone
const LAST_MORNING = parseInstant('2026-11-20T11:10:00+10:30')
/** In the past six cattle stood at the trough for 40 or 60 minutes of the heat each day. */
const DAYS = 50
const STEP_MINUTES = 20

let station: SmallStation

async function stay(from: Instant, minutes: number): Promise<void> {
  const times = Array.from({ length: minutes / STEP_MINUTES + 1 }, (_, i) => from + i * STEP_MINUTES * MINUTE)
  const stills = await receiveAll(
    station,
    times.map((at) => ({ name: `photo at ${at}`, cameraId: station.cameraIds[1], at: at as Instant })),
  )
  for (const { id } of stills) await record(station, id, { cattle: 6 })
}

async function hangingAt(now: Instant) {
  const settings = await readSettings(station.ledger)
  const night = nightToShow(now, zone)
  const facts = await readWaterRun(station.ledger, { night, now: new Date(now) })
  const [row] = await waterRunRowsOf(station.ledger, facts, { settings, now, night })
  return row!.cattle.hanging
}

beforeAll(async () => {
  station = await openSmallStation()
  for (let day = 1; day <= DAYS; day++)
    await stay((LAST_MORNING - day * DAY) as Instant, day % 2 === 0 ? 40 : 60)
  await learnCattleLimits(station.ledger, { zone, now: LAST_MORNING, shouldStop: () => false })
})
afterAll(() => station.close())

it('a usual stay is no news', async () => {
  expect(await hangingAt(LAST_MORNING)).toBeNull()
})

it('hours in the heat are, for a day, with the least number that was there', async () => {
  await stay(LAST_MORNING, 240)
  const now = (LAST_MORNING + 250 * MINUTE) as Instant
  expect(await hangingAt(now)).toMatchObject({ from: '2026-11-20T11:10:00+10:30', hours: 4, head: 6 })
  expect((await hangingAt(now))!.limitHours).toBeLessThan(4)
  expect(await hangingAt((now + DAY) as Instant)).toBeNull()
})
