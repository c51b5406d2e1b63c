/** How sure a number is, told by drawing whole nights again: visits of one night are alike and no witnesses of their own. */
import { tailOf, USUAL_LEVEL } from './binomial-interval.ts'
import { drawsFrom } from './seeded-draws.ts'

export interface BootstrapInterval {
  readonly low: number
  readonly high: number
}

/** With fewer nights to draw from, the drawn ones are too much alike to tell (common practice, no source). */
export const LEAST_NIGHTS = 28
const USUAL_DRAWS = 1000

/**
 * An interval by bootstrap over nights: each draw takes as many nights as there are, with replacement, and `estimate` is
 * given how many times each was taken (null: that draw can't tell). The percentile limits (Efron & Tibshirani 1993, An
 * Introduction to the Bootstrap, section 13.3, from memory), widened to those corrected for bias (section 10.6) where these
 * lie further out: of an overlap the draws err as the estimate does, so both of its errors are taken off. Limits stay within
 * 0 and `most`. Null under 28 nights.
 */
export function nightBootstrap(
  estimate: (times: Float64Array) => number | null,
  {
    nights,
    seed,
    most,
    draws = USUAL_DRAWS,
    level = USUAL_LEVEL,
  }: {
    readonly nights: number
    readonly seed: number
    readonly most: number
    readonly draws?: number
    readonly level?: number
  },
): BootstrapInterval | null {
  if (nights < LEAST_NIGHTS) return null
  const seen = estimate(new Float64Array(nights).fill(1))
  const draw = drawsFrom(seed)
  const drawn: number[] = []
  for (let i = 0; i < draws; i++) {
    const times = new Float64Array(nights)
    for (let night = 0; night < nights; night++) times[draw(nights)]!++
    const value = estimate(times)
    if (value !== null) drawn.push(value)
  }
  if (seen === null || drawn.length === 0) return null
  drawn.sort((a, b) => a - b)
  const tail = tailOf(level)
  const bias = drawn.reduce((sum, value) => sum + value, 0) / drawn.length - seen
  const [low, high] = [tail, 1 - tail].map((part) => drawn[Math.round(part * (drawn.length - 1))]!)
  return {
    low: Math.max(0, low! - 2 * Math.max(0, bias)),
    high: Math.min(most, high! - 2 * Math.min(0, bias)),
  }
}
