/** Is a change more than the season's? The same change of the year before, taken off. */
import { USUAL_LEVEL } from '../tally/binomial-interval.ts'
import { chiSquareQuantile } from '../tally/special-functions.ts'
import type { BeforeAfter } from './points-together.ts'

export interface SeasonRatio {
  /** This year's ratio of after to before over last year's; 1: what the season does. */
  readonly ratio: number
  readonly low: number
  readonly high: number
}

/** Where one of the four counts is 0, so much is added to each (Haldane 1956; from memory). */
const HALF = 0.5

/**
 * A ratio of two ratios of rates with limits from the logarithms, whose variance is the sum of 1 over the four counts, times
 * `dispersion` (Rothman, Greenland & Lash 2008, Modern Epidemiology, chapter 14, from memory). Null where nobody watched.
 */
export function againstLastYear(
  now: BeforeAfter,
  lastYear: BeforeAfter,
  { dispersion = 1, level = USUAL_LEVEL }: { readonly dispersion?: number; readonly level?: number } = {},
): SeasonRatio | null {
  const spells = [now.after, now.before, lastYear.after, lastYear.before]
  if (spells.some(({ watchedNights }) => watchedNights <= 0)) return null
  const add = spells.some(({ visits }) => visits === 0) ? HALF : 0
  const rates = spells.map(({ visits, watchedNights }) => (visits + add) / watchedNights)
  const ratio = rates[0]! / rates[1]! / (rates[2]! / rates[3]!)
  const variance = dispersion * spells.reduce((sum, { visits }) => sum + 1 / (visits + add), 0)
  const reach = Math.exp(Math.sqrt(variance * chiSquareQuantile(level, 1)))
  return { ratio, low: ratio / reach, high: ratio * reach }
}
