/** What comes to several waters on a night, as one number with its limits. */
import type { RateInterval } from '../tally/poisson-interval.ts'
import type { SpellTotals } from '../tally/spell-totals.ts'
import { weightedGammaInterval } from '../tally/weighted-gamma-interval.ts'

/**
 * Animal-visits a night at these waters together, each by its own watched nights: a sum of rates, in which a visit weighs its
 * peak over the nights that its water was watched (directly standardised rates: Fay & Feuer 1997, as in
 * tally/weighted-gamma-interval.ts). The one more visit weighs the largest of these weights, but no less than a visit of
 * `meanPeak` head at the water that was watched least. Null where none of them was watched.
 */
export function animalVisitsTogether(
  waters: readonly SpellTotals[],
  { meanPeak, dispersion = 1 }: { readonly meanPeak: number | null; readonly dispersion?: number },
): RateInterval | null {
  const watched = waters.filter(({ watchedNights }) => watchedNights > 0)
  if (watched.length === 0) return null
  const sum = (of: (water: SpellTotals) => number) => watched.reduce((total, water) => total + of(water), 0)
  const largest = Math.max(
    ...watched.map(
      ({ largestPeak, watchedNights }) => (Math.max(largestPeak, meanPeak ?? 0) || 1) / watchedNights,
    ),
  )
  return weightedGammaInterval(
    {
      sum: sum(({ animalVisits, watchedNights }) => animalVisits / watchedNights),
      squares: sum(({ squaredPeaks, watchedNights }) => squaredPeaks / watchedNights ** 2),
      nextWeight: largest,
    },
    1,
    { dispersion },
  )
}
