/** A share with its exact interval: "18 of 20 were right" says less than it seems. */
import { betaQuantile } from './special-functions.ts'

export const USUAL_LEVEL = 0.95

/** A share and the limits of its interval, each 0 to 1. */
export interface ShareInterval {
  readonly share: number
  readonly low: number
  readonly high: number
}

/**
 * The exact two-sided interval for a share of which `hits` in `of` were seen (Clopper & Pearson 1934, Biometrika
 * 26:404-413, doi:10.1093/biomet/26.4.404, by beta quantiles): it covers the true share at least as often as `level` says,
 * whatever that is. Both may be fractions where a weighted sample counts for so many (Korn & Graubard 1998).
 * @throws RangeError unless 0 <= hits <= of, of is over 0 and level lies between 0 and 1
 */
export function binomialInterval(hits: number, of: number, level = USUAL_LEVEL): ShareInterval {
  if (!(of > 0 && hits >= 0 && hits <= of)) throw new RangeError(`${hits} of ${of} is no share`)
  const tail = tailOf(level)
  return {
    share: hits / of,
    low: hits === 0 ? 0 : betaQuantile(tail, hits, of - hits + 1),
    high: hits === of ? 1 : betaQuantile(1 - tail, hits + 1, of - hits),
  }
}

/**
 * How many must be looked at, none of them a hit, for the upper limit to be under `limit` (between 0 and 1).
 * @throws RangeError outside that
 */
export function lookedAtForUpperLimit(limit: number, level = USUAL_LEVEL): number {
  if (!(limit > 0 && limit < 1)) throw new RangeError(`a limit lies between 0 and 1, and this is ${limit}`)
  // No hit in n has the upper limit 1 - tail^(1/n).
  const needed = Math.log(tailOf(level)) / Math.log1p(-limit)
  return Number.isInteger(needed) ? needed + 1 : Math.ceil(needed)
}

/** The chance left out at each end of a two-sided interval. @throws RangeError unless level lies between 0 and 1 */
export function tailOf(level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, and this is ${level}`)
  return (1 - level) / 2
}
