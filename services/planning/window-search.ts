/** The best stretch of half hours on the clock, all of them tried. */
import { FULL_CIRCLE } from '../tally/circular-density.ts'
import { STEPS_A_DAY } from '../tally/when-they-come.ts'

/** A gate is set on the full or the half hour: steps of ten minutes, three together. */
const STEPS_A_HALF_HOUR = 3
const STARTS = STEPS_A_DAY / STEPS_A_HALF_HOUR
const HALF_HOURS_AN_HOUR = 2
/** Shares nearer than this are the same. */
const SAME = 1e-9

/** In half hours from midnight: `from` 0 to 47, `long` 1 to 48. */
export interface Window {
  readonly from: number
  readonly long: number
}

/**
 * The stretch with most of `wanted` and no more than `bound.cattleShare` of `unwanted` (null: unknown, and no bound), both as
 * parts of the day at each ten minutes. Null where every half hour has more.
 */
export function mostWithin(
  wanted: readonly number[],
  unwanted: readonly number[] | null,
  bound: { readonly cattleShare: number; readonly mostHours: number },
): Window | null {
  const good = halfHours(wanted)
  const bad = unwanted && halfHours(unwanted)
  const longest = Math.min(STARTS, Math.floor(bound.mostHours * HALF_HOURS_AN_HOUR))
  let best: Window | null = null
  let most = 0
  const sums = Array.from({ length: STARTS }, () => ({ good: 0, bad: 0 }))
  // Shorter before longer, and earlier before later: what comes first stays where another is only as good.
  for (let long = 1; long <= longest; long++) {
    for (let from = 0; from < STARTS; from++) {
      const sum = sums[from]!
      const last = (from + long - 1) % STARTS
      sum.good += good[last]!
      sum.bad += bad?.[last] ?? 0
      if (sum.bad <= bound.cattleShare + SAME && sum.good > most + SAME)
        [best, most] = [{ from, long }, sum.good]
    }
  }
  return best
}

/** The shortest stretch with at least `share` of the day's parts, the earliest of those; the whole day holds it all. */
export function shortestHolding(parts: readonly number[], share: number): Window {
  const held = halfHours(parts)
  const sums = Array<number>(STARTS).fill(0)
  for (let long = 1; long < STARTS; long++) {
    for (let from = 0; from < STARTS; from++) {
      sums[from]! += held[(from + long - 1) % STARTS]!
      if (sums[from]! >= share - SAME) return { from, long }
    }
  }
  return { from: 0, long: STARTS }
}

export function hoursOf({ from, long }: Window): { from: number; to: number; hours: number } {
  return {
    from: from / HALF_HOURS_AN_HOUR,
    to: ((from + long) % STARTS) / HALF_HOURS_AN_HOUR,
    hours: long / HALF_HOURS_AN_HOUR,
  }
}

/** The window of these hours, by half hours; the same hour twice is the whole day. */
export function windowOf({ from, to }: { readonly from: number; readonly to: number }): Window {
  const [start, end] = [from * HALF_HOURS_AN_HOUR, to * HALF_HOURS_AN_HOUR]
  return { from: start, long: (end - start + STARTS) % STARTS || STARTS }
}

/** The steps of ten minutes in it. */
export function insideOf({ from, long }: Window): number[] {
  return Array.from(
    { length: long * STEPS_A_HALF_HOUR },
    (_, i) => (from * STEPS_A_HALF_HOUR + i) % STEPS_A_DAY,
  )
}

/** Does a clock angle lie in it? */
export function isInside(angle: number, { from, long }: Window): boolean {
  const half = (angle / FULL_CIRCLE) * STARTS
  return (half - from + STARTS) % STARTS < long
}

const halfHours = (steps: readonly number[]) =>
  Array.from({ length: STARTS }, (_, i) =>
    steps.slice(i * STEPS_A_HALF_HOUR, (i + 1) * STEPS_A_HALF_HOUR).reduce((sum, part) => sum + part, 0),
  )
