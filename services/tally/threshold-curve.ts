/** Where to set a threshold: what each would catch, what it would miss, and what both cost. */

/** One thing with a word on it: a box, or the best box of a burst. */
export interface JudgedScore {
  /** 0 to 1; 0 for an animal that got no box at all. */
  readonly score: number
  /** Whether it truly is the species. */
  readonly isSo: boolean
  /** How many it stands for: 1 / chance of being drawn; 1 where all were looked at. */
  readonly weight: number
}

/** What a threshold does; numbers are sums of weights. */
export interface ThresholdPoint {
  /** Scores at or over it are flagged; infinity flags none. */
  readonly threshold: number
  readonly flagged: number
  readonly falseFlags: number
  readonly missed: number
  /** Share of the flagged that are truly so; null where none is flagged. */
  readonly precision: number | null
  /** Share of the true ones that are flagged; null where there are none. */
  readonly recall: number | null
}

/**
 * Precision against recall at every score that makes a difference, from flagging none down to the lowest score over 0: an
 * animal without a box is missed at any threshold.
 */
export function thresholdCurve(judged: readonly JudgedScore[]): ThresholdPoint[] {
  const all = judged.reduce((sum, { isSo, weight }) => sum + (isSo ? weight : 0), 0)
  const highestFirst = judged.filter(({ score }) => score > 0).sort((a, b) => b.score - a.score)
  let right = 0
  let wrong = 0
  const pointAt = (threshold: number): ThresholdPoint => ({
    threshold,
    flagged: right + wrong,
    falseFlags: wrong,
    missed: Math.max(0, all - right),
    precision: right + wrong > 0 ? right / (right + wrong) : null,
    recall: all > 0 ? right / all : null,
  })
  const curve = [pointAt(Number.POSITIVE_INFINITY)]
  for (const [i, { score, isSo, weight }] of highestFirst.entries()) {
    if (isSo) right += weight
    else wrong += weight
    // Equal scores are flagged together or not at all.
    if (highestFirst[i + 1]?.score !== score) curve.push(pointAt(score))
  }
  return curve
}

/** What a threshold between the curve's own does: the same as the next one over it. */
export function atThreshold(curve: readonly ThresholdPoint[], threshold: number): ThresholdPoint {
  const point = curve.findLast((one) => one.threshold >= threshold)
  if (point === undefined) throw new RangeError('a curve begins at infinity')
  return { ...point, threshold }
}

/**
 * The threshold of the curve that costs least, when a missed animal costs as much as `missCost` false flags (over 0);
 * of equals the lowest, which misses least.
 * @throws RangeError for an empty curve, or a cost that is not over 0
 */
export function cheapestThreshold(curve: readonly ThresholdPoint[], missCost: number): ThresholdPoint {
  if (!(missCost > 0)) throw new RangeError(`what a miss costs is over 0, and this is ${missCost}`)
  const cost = ({ missed, falseFlags }: ThresholdPoint) => missCost * missed + falseFlags
  const [first, ...rest] = curve
  if (first === undefined) throw new RangeError('a curve has a point at least')
  return rest.reduce((best, point) => (cost(point) <= cost(best) ? point : best), first)
}
