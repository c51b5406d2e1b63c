/** Grazing pressure at a point: visits per 100 watched nights, and animal-visits per watched night, with their limits. */
import type { RateInterval } from './poisson-interval.ts'
import type { SpellTotals } from './spell-totals.ts'
import { weightedGammaInterval } from './weighted-gamma-interval.ts'

/** Visits are told per so many watched nights. */
export const PER_NIGHTS = 100

export interface RateSettings {
  /** The species' dispersion factor, at least 1 (dispersion.ts); 1 unless given: visits that know nothing of each other. */
  readonly dispersion?: number
  readonly level?: number
}

/**
 * Visits per 100 watched nights with Garwood's exact limits (poisson-interval.ts; on counts divided by the dispersion).
 * Null where nothing was watched: nobody can say what came, and that is not none.
 */
export function visitRate(
  { visits, watchedNights }: Pick<SpellTotals, 'visits' | 'watchedNights'>,
  settings: RateSettings = {},
): RateInterval | null {
  if (watchedNights <= 0) return null
  // With weights of 1 the weighted gamma limits are Garwood's.
  return weightedGammaInterval(
    { sum: visits, squares: visits, nextWeight: 1 },
    watchedNights / PER_NIGHTS,
    settings,
  )
}

/**
 * Animal-visits per watched night with weighted gamma limits, each visit weighing its peak. The one more visit that the
 * upper limit allows for weighs the largest peak seen, but no less than `pastMeanPeak`, the mean peak of this species here
 * before, or on the station: null, an animal alone. Null where nothing was watched.
 */
export function animalVisitRate(
  { animalVisits, squaredPeaks, largestPeak, watchedNights }: SpellTotals,
  pastMeanPeak: number | null,
  settings: RateSettings = {},
): RateInterval | null {
  if (watchedNights <= 0) return null
  const nextWeight = Math.max(largestPeak, pastMeanPeak ?? 0) || 1
  return weightedGammaInterval(
    { sum: animalVisits, squares: squaredPeaks, nextWeight },
    watchedNights,
    settings,
  )
}
