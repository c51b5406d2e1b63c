/** How long cattle stay away is learned once a day, and not while photos that may show them wait. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import { startDailyLimits } from '../../services/daily-limits.ts'
import { parseInstant } from '../../services/station-time.ts'
import { limitsLearnedAt } from '../../services/store/learn-cattle-limits.ts'
import type { Instant } from '../../services/words.ts'
import { openSmallStation, receive, receiveAll, record, type SmallStation } from './small-station.ts'

const HOUR = 3_600_000
const NOON = parseInstant('2026-11-20T12:00:00+10:30')
const MANY = 60

let station: SmallStation
let now = NOON

beforeAll(async () => {
  station = await openSmallStation()
  const still = { name: 'cattle', cameraId: station.cameraIds[1], at: (NOON - 5 * HOUR) as Instant }
  await record(station, await receive(station, still), { cattle: 2 })
})
afterAll(() => station.close())

it('once a day, and at once again once what waited is read', async () => {
  const limits = startDailyLimits({ ledger: station.ledger, now: () => now, log: () => undefined })
  const learnedAt = () => limitsLearnedAt(station.ledger)
  try {
    const waiting = await receiveAll(
      station,
      Array.from({ length: MANY }, (_, i) => ({
        name: `waits ${i}`,
        cameraId: station.cameraIds[1],
        at: (NOON - i * HOUR) as Instant,
      })),
    )
    await limits.wake()
    expect(await learnedAt()).toBeNull()
    for (const { id } of waiting) await record(station, id, {})
    await limits.wake()
    expect(await learnedAt()).toBe(NOON)
    now = (NOON + 23 * HOUR) as Instant
    await limits.wake()
    expect(await learnedAt()).toBe(NOON)
    now = (NOON + 24 * HOUR) as Instant
    await limits.wake()
    expect(await learnedAt()).toBe(now)
    // The clock of the service had run ahead, and was set right.
    now = (NOON + 2 * HOUR) as Instant
    await limits.wake()
    expect(await learnedAt()).toBe(now)
  } finally {
    await limits.stop()
  }
})
