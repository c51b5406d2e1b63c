/** A straight line through points of which some may be far off. */
import { chiSquareQuantile } from './special-functions.ts'

export interface LinePoint {
  readonly x: number
  readonly y: number
}

export interface RobustLine {
  /** The median of the slopes between any two points, with its limits. */
  readonly slope: number
  readonly low: number
  readonly high: number
  /** Where the line is at x = 0: the median of what each point would say. */
  readonly intercept: number
}

/**
 * The line of Theil (1950, Proceedings of the Koninklijke Nederlandse Akademie van Wetenschappen 53:386-392), with the
 * limits of Sen (1968, Journal of the American Statistical Association 63:1379-1389, doi:10.1080/01621459.1968.10480934) by
 * the normal approximation to Kendall's S, ties taken off its variance; ranks are rounded outward.
 * @param points at least 2, no two with the same x
 * @param level such as 0.95
 */
export function theilSen(points: readonly LinePoint[], level: number): RobustLine {
  const slopes = points
    .flatMap((a, i) => points.slice(i + 1).map((b) => (b.y - a.y) / (b.x - a.x)))
    .toSorted((a, b) => a - b)
  const z = Math.sqrt(chiSquareQuantile(level, 1))
  const reach = z * Math.sqrt(kendallVariance(points.map(({ y }) => y)))
  const lowRank = Math.max(1, Math.floor((slopes.length - reach) / 2))
  const slope = median(slopes)
  return {
    slope,
    low: slopes[lowRank - 1]!,
    high: slopes[slopes.length - lowRank]!,
    intercept: median(points.map(({ x, y }) => y - slope * x).toSorted((a, b) => a - b)),
  }
}

/** Of Kendall's S where nothing rises or falls (Kendall 1975, Rank Correlation Methods, as Sen has it). */
function kendallVariance(ys: readonly number[]): number {
  const n = ys.length
  const ties = new Map<number, number>()
  for (const y of ys) ties.set(y, (ties.get(y) ?? 0) + 1)
  const term = (t: number) => t * (t - 1) * (2 * t + 5)
  return (term(n) - [...ties.values()].reduce((sum, t) => sum + term(t), 0)) / 18
}

/** @param sorted not empty */
function median(sorted: readonly number[]): number {
  const middle = sorted.length / 2
  return (sorted[Math.ceil(middle) - 1]! + sorted[Math.floor(middle)]!) / 2
}
