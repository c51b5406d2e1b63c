/** How likely a falling catch is for each number that there may have been. */
import { USUAL_LEVEL } from '../tally/binomial-interval.ts'
import { chiSquareQuantile, logGamma } from '../tally/special-functions.ts'
import type { Catch } from './removal-conditions.ts'

/** The chance of being caught in a round that is likeliest for that number: T / (kN - X). */
export const chanceFor = (head: number, { rounds, caught, early }: Catch): number =>
  caught / (rounds * head - early)

/**
 * Logarithm of the likelihood of N, with the chance that is likeliest for it, up to what does not depend on N: N! / (N - T)!
 * p^T q^(kN - X - T) (Moran 1951, Biometrika 38:307-311, doi:10.1093/biomet/38.3-4.307; Zippin 1958).
 */
export function logLikelihood(head: number, given: Catch): number {
  const p = chanceFor(head, given)
  const escapes = given.rounds * head - given.early - given.caught
  return (
    logGamma(head + 1) -
    logGamma(head - given.caught + 1) +
    given.caught * Math.log(p) +
    (escapes === 0 ? 0 : escapes * Math.log1p(-p))
  )
}

/** What it tends to as N grows without end and the chance falls to nothing. */
const logLikelihoodAtInfinity = ({ rounds, caught }: Catch) => caught * Math.log(caught / rounds) - caught

/**
 * Head that are not much less likely than the likeliest: the profile likelihood interval (Venzon & Moolgavkar 1988, Applied
 * Statistics 37:87-94, doi:10.2307/2347496, from memory). `high` null: no upper limit. The catch falls.
 */
export function likelyHead(
  given: Catch,
  level = USUAL_LEVEL,
): { readonly likeliest: number; readonly low: number; readonly high: number | null } {
  const of = (head: number) => logLikelihood(head, given)
  const likeliest = lastBefore(given.caught, (head) => of(head + 1) <= of(head))
  const enough = of(likeliest) - chiSquareQuantile(level, 1) / 2
  let low = likeliest
  while (low > given.caught && of(low - 1) >= enough) low--
  if (logLikelihoodAtInfinity(given) >= enough) return { likeliest, low, high: null }
  return { likeliest, low, high: lastBefore(likeliest, (head) => of(head + 1) < enough) }
}

/** The first whole number from `from` on at which `holds`, which it does from there on: doubling, then halving. */
function lastBefore(from: number, holds: (head: number) => boolean): number {
  let step = 1
  let under = from - 1
  while (!holds(under + step)) {
    under += step
    step *= 2
  }
  let at = under + step
  while (at - under > 1) {
    const middle = Math.floor((under + at) / 2)
    if (holds(middle)) at = middle
    else under = middle
  }
  return at
}
