/** Hanging on water: a mob that will not leave a trough in the heat of the day may be waiting for water that does not come. */
import type { Instant, Spell, Zone } from '../words.ts'
import { type LearnedLimit, learnedLimit, type Past } from './learned-limit.ts'
import { nextNight, nightOf, nightSpell, nightsBetween } from './nights.ts'
import type { Visit } from './visits.ts'

const HOUR_MS = 3_600_000
/** The heat of the day is from 11:00 to 17:00, station time (common practice, no source). */
const BEFORE_NOON_HOURS = 1
const AFTER_NOON_HOURS = 5
/** Less is a drink, and no news anywhere (common practice, no source). */
export const LEAST_STAY_HOURS = 1
export const HEAT_HOURS = BEFORE_NOON_HOURS + AFTER_NOON_HOURS

/** The part of a visit that lay in the heat of one day. */
export interface HeatStay {
  readonly from: Instant
  /** Over 0, at most the six hours of the heat. */
  readonly hours: number
  readonly peak: number
}

/** The stays of a mob: of visits with a peak of `leastHead` or more, such as the middle peak at the point. */
export function heatStaysOf(
  visits: readonly Pick<Visit, 'startedAt' | 'endedAt' | 'peak'>[],
  { leastHead, zone }: { readonly leastHead: number; readonly zone: Zone },
): HeatStay[] {
  return visits
    .filter(({ peak }) => peak >= leastHead)
    .flatMap(({ startedAt, endedAt, peak }) =>
      heatBetween(startedAt, endedAt, zone).flatMap((heat) => {
        const from = Math.max(startedAt, heat.from) as Instant
        const hours = (Math.min(endedAt, heat.to) - from) / HOUR_MS
        return hours > 0 ? [{ from, hours, peak }] : []
      }),
    )
}

/**
 * The hours of a stay worth an alarm, learned as a silence is (learned-limit.ts). Null where there is not enough past, or
 * where the mob stays through the heat so often that no stay tells anything.
 */
export function heatStayLimit(given: {
  readonly own: StaysPast
  readonly station: StaysPast
  readonly points: number
}): LearnedLimit | null {
  const limit = learnedLimit({ own: pastOf(given.own), station: pastOf(given.station), points: given.points })
  return limit === null || limit.hours >= HEAT_HOURS ? null : limit
}

export interface StaysPast {
  readonly stays: readonly HeatStay[]
  readonly watchedWeeks: number
}

const pastOf = ({ stays, watchedWeeks }: StaysPast): Past => ({
  // A stay that was cut off by the end of the heat is told no further, so it never counts as longer than that.
  spells: stays.map(({ hours }) => ({ hours, ended: hours < HEAT_HOURS })),
  watchedWeeks,
})

/** The heat of each day that the spell may touch. A day's noon begins the night of its name, and its morning is before. */
function heatBetween(from: Instant, to: Instant, zone: Zone): Spell[] {
  return nightsBetween(nightOf(from, zone), nextNight(nightOf(to, zone))).map((night) => {
    const noon = nightSpell(night, zone).from
    return {
      from: (noon - BEFORE_NOON_HOURS * HOUR_MS) as Instant,
      to: (noon + AFTER_NOON_HOURS * HOUR_MS) as Instant,
    }
  })
}
