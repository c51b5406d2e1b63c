/** A count of things that come by chance, with its exact interval. */
import { tailOf, USUAL_LEVEL } from './binomial-interval.ts'
import { gammaQuantile } from './special-functions.ts'

export interface RateInterval {
  /** All per unit of effort. */
  readonly rate: number
  readonly low: number
  readonly high: number
}

/**
 * The exact two-sided interval of a Poisson rate: `count` (whole, at least 0) over `effort` (over 0, any unit). Garwood 1936,
 * Biometrika 28:437-442, doi:10.1093/biomet/28.3-4.437.
 * @throws RangeError outside these
 */
export function poissonInterval(count: number, effort = 1, level = USUAL_LEVEL): RateInterval {
  if (!(Number.isInteger(count) && count >= 0 && effort > 0))
    throw new RangeError(`${count} over ${effort} is no rate`)
  const tail = tailOf(level)
  return {
    rate: count / effort,
    low: count === 0 ? 0 : gammaQuantile(tail, count) / effort,
    high: gammaQuantile(1 - tail, count + 1) / effort,
  }
}
