import { readStillPool } from '../../../services/demo/pool.ts'
import type { DemoStill } from '../../../services/demo/schedule.ts'
import { parseInstant, toStationTime } from '../../../services/station-time.ts'
import type { Instant, Species, Zone } from '../../../services/words.ts'

export const pool = await readStillPool()
export const DAY_MS = 86_400_000
export const HOUR_MS = 3_600_000

/** A morning, a midnight in winter, an evening after clocks went back, before dawn after they went forward. */
export const NOWS = [
  '2026-11-25T06:10:00+10:30',
  '2026-07-01T00:05:00+09:30',
  '2026-04-20T18:30:00+09:30',
  '2026-10-12T12:00:00+10:30',
].map(parseInstant)
export const SEEDS = [1, 2, 3, 4, 5]
export const PERIODS = NOWS.flatMap((now) => SEEDS.map((seed) => ({ now, seed, nights: 56, pool })))

const bySource = new Map(pool.map((still) => [still.source, still]))
export const speciesIn = ({ source }: DemoStill) => bySource.get(source)?.species ?? new Set<Species>()
export const lightOf = ({ source }: DemoStill) => bySource.get(source)?.light

/** Hours and minutes on the station's clocks, as a decimal. */
export function hourOf(at: Instant): number {
  const [hour = 0, minute = 0] = toStationTime(at, 'Australia/Adelaide' as Zone)
    .slice(11, 16)
    .split(':')
    .map(Number)
  return hour + minute / 60
}

/** Readable stills of one species at one point, oldest first. */
export function stillsOf(schedule: readonly DemoStill[], pointKey: string, species: Species): DemoStill[] {
  return schedule
    .filter((still) => still.pointKey === pointKey && still.broken === null && speciesIn(still).has(species))
    .reverse()
}

/** Visits by the rule of the trade: no gap over 30 minutes (design, section 1). */
export function visitsOf(schedule: readonly DemoStill[], pointKey: string, species: Species): DemoStill[][] {
  const visits: DemoStill[][] = []
  for (const still of stillsOf(schedule, pointKey, species)) {
    const open = visits.at(-1)
    const before = open?.at(-1)
    if (open !== undefined && before !== undefined && still.at - before.at <= 30 * 60_000) open.push(still)
    else visits.push([still])
  }
  return visits
}
