/** How much more than by chance alone the visits of a species vary from night to night. */
import type { NightDate } from '../words.ts'
import { weekOf } from './weeks.ts'

export interface NightVisits {
  readonly pointId: number
  readonly night: NightDate
  /** The watched part of the night, 0 to 1; nights with 0 or null have no say. */
  readonly watched: number | null
  readonly visits: number
}

export interface Dispersion {
  /** At least 1, for that is chance alone: the variance of a night's visits over their mean. */
  readonly factor: number
  /** Degrees of freedom it was told from: nights less one, summed over the weeks of points with any visit. */
  readonly degrees: number
}

/** It is told from so many weeks. */
export const DISPERSION_WEEKS = 8
/** With fewer degrees of freedom the factor is itself a guess (two point-weeks with visits; common practice, no source). */
export const LEAST_DEGREES = 12

/** What a point's nights of one week come to, as far as the factor is told from it. */
export interface WeekVisits {
  readonly visits: number
  /** Nights that were watched at all, and their watched parts together. */
  readonly nights: number
  readonly watchedNights: number
  /** Sum over those nights of the square of the visits over the watched part. */
  readonly squares: number
}

/**
 * The factor of ONE species from nights within weeks, over all points: Pearson's chi-square over its degrees of freedom
 * (McCullagh & Nelder 1989, Generalized Linear Models, section 4.5, from memory). What changes from week to week or from
 * point to point is no noise and stays out. Each point-week counts by its rate of visits, which makes this the sum of the
 * squared differences over what chance alone would make of it: in a week of one visit chi-square is its degrees of freedom
 * whatever the truth, and such weeks, equal to others, would draw the factor to 1. Null with fewer than 12 degrees.
 */
export function dispersionOf(nights: readonly NightVisits[]): Dispersion | null {
  return dispersionOfWeeks([...inWeeks(nights)].map(weekVisits))
}

/** The same from sums of each point's weeks. */
export function dispersionOfWeeks(weeks: readonly WeekVisits[]): Dispersion | null {
  let squares = 0
  let byChance = 0
  let degrees = 0
  for (const week of weeks) {
    if (week.visits === 0 || week.nights === 0) continue
    const rate = week.visits / week.watchedNights
    // The squared differences from what the rate would give each night, written out.
    squares += week.squares - rate * week.visits
    byChance += rate * (week.nights - 1)
    degrees += week.nights - 1
  }
  return degrees < LEAST_DEGREES ? null : { factor: Math.max(1, squares / byChance), degrees }
}

const weekVisits = (nights: readonly Watched[]): WeekVisits => ({
  visits: nights.reduce((sum, { visits }) => sum + visits, 0),
  nights: nights.length,
  watchedNights: nights.reduce((sum, { watched }) => sum + watched, 0),
  squares: nights.reduce((sum, { visits, watched }) => sum + visits ** 2 / watched, 0),
})

type Watched = NightVisits & { readonly watched: number }

/** The watched nights of each point and week together. */
function inWeeks(nights: readonly NightVisits[]): Iterable<Watched[]> {
  const weeks = new Map<string, Watched[]>()
  for (const { watched, ...night } of nights) {
    if (watched === null || watched <= 0) continue
    const key = `${night.pointId} ${weekOf(night.night).from}`
    const week = weeks.get(key)
    if (week === undefined) weeks.set(key, [{ ...night, watched }])
    else week.push({ ...night, watched })
  }
  return weeks.values()
}
