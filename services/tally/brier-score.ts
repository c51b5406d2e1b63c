/** How good scores are as chances: the Brier score. */

/** What was said of one animal, and what it was. */
export interface Forecast {
  /** The chance given to each name, 0 to 1 each, summing to 1. */
  readonly chances: readonly number[]
  /** Which name it truly was, from 0. */
  readonly truth: number
}

/**
 * The mean over forecasts of the summed squared distance between the chances and what came, 0 (always sure and right) to
 * 2 (always sure and wrong): the definition of Brier 1950, Monthly Weather Review 78:1-3,
 * doi:10.1175/1520-0493(1950)078<0001:VOFEIT>2.0.CO;2. For two names it is twice the half-form many programs print. Null
 * without forecasts.
 * @throws RangeError when a truth is not among the names
 */
export function brierScore(forecasts: readonly Forecast[]): number | null {
  if (forecasts.length === 0) return null
  let sum = 0
  for (const { chances, truth } of forecasts) {
    if (chances[truth] === undefined)
      throw new RangeError(`name ${truth} is not among ${chances.length} names`)
    for (const [name, chance] of chances.entries()) sum += (chance - (name === truth ? 1 : 0)) ** 2
  }
  return sum / forecasts.length
}
