/** A weighted sum of things that come by chance, with its interval: animals come in mobs, so their sum is not Poisson. */
import { tailOf, USUAL_LEVEL } from './binomial-interval.ts'
import type { RateInterval } from './poisson-interval.ts'
import { gammaQuantile } from './special-functions.ts'

/** Things that come one by one, each counting for its weight (over 0). */
export interface WeightedCount {
  /** Sum of the weights, and of their squares; both 0 when none came. */
  readonly sum: number
  readonly squares: number
  /** The weight that one more could have, over 0: the largest, to be on the safe side. */
  readonly nextWeight: number
}

/**
 * The weighted gamma limits of a weighted sum over `effort` (over 0, any unit): Fay & Feuer 1997, Statistics in Medicine
 * 16:791-801, doi:10.1002/(SICI)1097-0258(19970415)16:7<791::AID-SIM500>3.0.CO;2-#. With all weights 1 they are Garwood's.
 * `dispersion` (at least 1): things come in clumps, so that each counts for less of a witness: counts are divided by it,
 * weights multiplied (quasi-likelihood: McCullagh & Nelder 1989, Generalized Linear Models, section 6.2, from memory).
 * @throws RangeError outside these
 */
export function weightedGammaInterval(
  { sum, squares, nextWeight }: WeightedCount,
  effort: number,
  { dispersion = 1, level = USUAL_LEVEL }: { readonly dispersion?: number; readonly level?: number } = {},
): RateInterval {
  if (!(sum >= 0 && squares >= 0 && nextWeight > 0 && effort > 0 && dispersion >= 1))
    throw new RangeError(
      `a sum of ${sum} with squares ${squares}, next ${nextWeight}, over ${effort}, dispersion ${dispersion} is no rate`,
    )
  const tail = tailOf(level)
  const next = dispersion * nextWeight
  const limit = (p: number, mean: number, variance: number) =>
    gammaQuantile(p, mean ** 2 / variance, variance / mean) / effort
  return {
    rate: sum / effort,
    low: sum === 0 ? 0 : limit(tail, sum, dispersion * squares),
    high: limit(1 - tail, sum + next, dispersion * squares + next ** 2),
  }
}
