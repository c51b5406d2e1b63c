/** How long stock may stay away from a point before it is worth an alarm: learned, and told how. */
import type { Instant } from '../words.ts'
import { type LearnedLimit, learnedLimit, type Past } from './learned-limit.ts'
import type { Lasted } from './survival.ts'

const HOURS_A_WEEK = 168
const HOUR_MS = 3_600_000
const DAY_HOURS = 24

/** A day without them is no news anywhere (common practice, no source). */
export const LEAST_LIMIT_HOURS = 24
export const NORMAL_FOR_DAYS = 30

export interface SilenceLimit {
  /** Watched hours without them: what `cattleState` (water-words.ts) takes as its limit. */
  readonly hours: number
  /** Null where neither the point nor the station has enough past: the owner's longest holds. */
  readonly learned: LearnedLimit | null
  /** What was learned is shorter than a day, or longer than the owner allows. */
  readonly heldAt: 'a day' | 'the owner’s longest' | null
}

/**
 * What is learned from all absences of one season, a point's own and the whole station's (absences.ts): a limit that a point
 * whose stock comes as it did passes so seldom that the station has one false alarm a week (learned-limit.ts). `points`:
 * those with stock. Null where neither has enough past.
 */
export function learnedSilence({
  own,
  station,
  points,
}: {
  readonly own: readonly Lasted[]
  readonly station: readonly Lasted[]
  readonly points: number
}): LearnedLimit | null {
  return learnedLimit(
    { own: pastOf(own), station: pastOf(station), points },
    // Within a day absences follow the hours of the day, and their spread says nothing of whole days away.
    { tailFromHours: LEAST_LIMIT_HOURS },
  )
}

/** The limit in force: between a day and `longestHours`, the owner's longest allowed silence; no limit goes past it. */
export function heldLimit(learned: LearnedLimit | null, longestHours: number): SilenceLimit {
  if (learned === null) return { hours: longestHours, learned, heldAt: null }
  if (learned.hours >= longestHours) return { hours: longestHours, learned, heldAt: 'the owner’s longest' }
  return learned.hours >= LEAST_LIMIT_HOURS
    ? { hours: learned.hours, learned, heldAt: null }
    : { hours: Math.min(LEAST_LIMIT_HOURS, longestHours), learned, heldAt: 'a day' }
}

/** Somebody said that a silence of so many watched hours is normal at the point. */
export interface SaidNormal {
  readonly at: Instant
  readonly silentHours: number
}

/**
 * The hours in force after "that is normal here": for 30 days, a day more than the silence it was said of, because another
 * day without them is news again; never past the owner's longest, and never less than what was learned.
 */
export function hoursInForce(
  { hours }: Pick<SilenceLimit, 'hours'>,
  {
    said,
    longestHours,
    now,
  }: { readonly said: SaidNormal | null; readonly longestHours: number; readonly now: Instant },
): number {
  const holds = said !== null && now >= said.at && now - said.at < NORMAL_FOR_DAYS * DAY_HOURS * HOUR_MS
  return Math.min(longestHours, Math.max(hours, holds ? said.silentHours + DAY_HOURS : 0))
}

/** Absences fill a point's watched time but for the visits, which are short. */
const pastOf = (spells: readonly Lasted[]): Past => ({
  spells,
  watchedWeeks: spells.reduce((sum, { hours }) => sum + hours, 0) / HOURS_A_WEEK,
})
