/** Alarms of cattle that are not in to water: learned from the point's own past, explained, lifted, bounded. */
import { sql } from 'kysely'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { waterRunRowsOf } from '../../services/http/water-run-row.ts'
import { parseInstant } from '../../services/station-time.ts'
import { sayNormal } from '../../services/store/cattle-limits.ts'
import { learnCattleLimits, limitsLearnedAt } from '../../services/store/learn-cattle-limits.ts'
import { addPointState } from '../../services/store/point-states.ts'
import { readSettings } from '../../services/store/settings.ts'
import { readWaterRun } from '../../services/store/water-run.ts'
import { nightToShow } from '../../services/tally/nights.ts'
import type { Instant, StateKind, Zone } from '../../services/words.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

const HOUR = 3_600_000
const DAY = 24 * HOUR
const zone = 'Australia/Adelaide' as Zone
/** Cattle came at 08:00 and at 18:00 each day up to and with this one, in the hot season. */
const LAST_SEEN = parseInstant('2026-11-20T18:00:00+10:30')
const DAYS = 40

let station: SmallStation

beforeAll(async () => {
  station = await openSmallStation()
  for (let day = 0; day <= DAYS; day++) {
    const evening = (LAST_SEEN - day * DAY) as Instant
    await photo(evening, { cattle: 4 })
    await photo((evening - 10 * HOUR) as Instant, { cattle: 3 })
  }
  // Camels keep the camera speaking: the hours up to the last of them are watched.
  await photo((LAST_SEEN + 31 * HOUR) as Instant, { camel: 1 })
})
afterAll(() => station.close())

let photos = 0
async function photo(at: Instant, tally: Parameters<typeof record>[2]): Promise<void> {
  photos += 1
  const still = { name: `photo ${photos}`, cameraId: station.cameraIds[1], at }
  await record(station, await receive(station, still), tally)
}

const later = (hours: number) => (LAST_SEEN + hours * HOUR) as Instant

async function cattleAt(now: Instant) {
  const settings = await readSettings(station.ledger)
  const night = nightToShow(now, zone)
  const facts = await readWaterRun(station.ledger, { night, now: new Date(now) })
  const [row] = await waterRunRowsOf(station.ledger, facts, { settings, now, night })
  return row!.cattle
}

const say = (kind: StateKind, at: Instant) =>
  addPointState(station.ledger, {
    pointId: station.pointId,
    kind,
    at,
    source: 'tap',
    levelPercent: null,
    note: null,
  })

describe('before anything is learned', () => {
  it('the owner’s longest holds, and no alarm comes before it', async () => {
    const cattle = await cattleAt(later(31))
    expect(cattle).toMatchObject({ state: 'in', limit: { hours: 72, learned: null, heldAt: null } })
  })
})

describe('once the past is learned', () => {
  it('tells what it was learned from', async () => {
    const now = later(31)
    const points = await learnCattleLimits(station.ledger, { zone, now, shouldStop: () => false })
    expect(points).toBe(1)
    expect(await limitsLearnedAt(station.ledger)).toBe(now)
    const { limit } = await cattleAt(now)
    // Two absences a day, of 10 and of 14 hours: none that ended was longer, so a day is the limit.
    expect(limit).toMatchObject({ hours: 24, season: 'hot', heldAt: 'a day', longestHours: 72 })
    expect(limit!.learned).toMatchObject({ from: 'this point', absences: 2 * DAYS + 1 })
    // One point may have one alarm a week, and some fourteen absences of it end in one.
    expect(limit!.learned!.oneIn).toBeGreaterThanOrEqual(13)
    expect(limit!.learned!.oneIn).toBeLessThanOrEqual(15)
  })

  it('a day of watched hours without them is an alarm', async () => {
    expect(await cattleAt(later(23))).toMatchObject({ state: 'in' })
    expect(await cattleAt(later(31))).toMatchObject({ state: 'not in', because: null })
  })

  it('water off stops it and says so, until the water is on again', async () => {
    await say('water off', later(25))
    expect(await cattleAt(later(31))).toMatchObject({
      state: 'away',
      because: { kind: 'water off', stops: true },
    })
    await say('water good', later(26))
    expect(await cattleAt(later(31))).toMatchObject({ state: 'not in', because: null })
  })

  it('a set trap explains it and stops nothing', async () => {
    await say('trap set', later(20))
    expect(await cattleAt(later(31))).toMatchObject({
      state: 'not in',
      because: { kind: 'trap set', stops: false },
    })
    await say('trap shut down', later(27))
  })

  it('a word dated after now is not yet true', async () => {
    await say('rain', later(30))
    expect(await cattleAt(later(29))).toMatchObject({ state: 'not in', because: null })
    expect(await cattleAt(later(31))).toMatchObject({ state: 'away', because: { kind: 'rain' } })
  })

  it('rain holds for a week, then the alarm is back', async () => {
    expect(await cattleAt(later(30 + 7 * 24))).toMatchObject({ state: 'away' })
    expect(await cattleAt(later(30 + 7 * 24 + 1))).toMatchObject({ state: 'not in', because: null })
  })

  it('hours in which nobody watched are never overdue', async () => {
    // The camera's last word came 31 hours after the cattle; by now that is too long ago to be news.
    expect(await cattleAt(later(20 * 24))).toMatchObject({ state: 'not watched' })
  })

  it('"that is normal here" allows a day more than the silence it was said of, never past the owner’s longest', async () => {
    const word = { pointId: station.pointId, who: 'Ash', note: null }
    await sayNormal(station.ledger, { ...word, at: later(31), silentHours: 31 })
    expect((await cattleAt(later(32))).limit).toMatchObject({ hours: 55 })
    await sayNormal(station.ledger, { ...word, at: later(33), silentHours: 70 })
    expect((await cattleAt(later(34))).limit).toMatchObject({ hours: 72 })
    // For thirty days, then what was learned holds again.
    expect((await cattleAt((later(33) + 30 * DAY) as Instant)).limit).toMatchObject({
      hours: 24,
      normalUntil: null,
    })
  })

  it('what was said stays as it was said', async () => {
    for (const statement of ['update normal_words set silent_hours = 1', 'delete from normal_words'])
      await expect(sql.raw(statement).execute(station.ledger)).rejects.toThrow('append-only')
  })

  it('learned again from the same past, it is the same', async () => {
    const kept = () => station.ledger.selectFrom('cattle_limits').selectAll().execute()
    const before = await kept()
    await learnCattleLimits(station.ledger, { zone, now: later(31), shouldStop: () => false })
    expect(await kept()).toEqual(before)
    expect(before.length).toBeGreaterThan(0)
  })
})
