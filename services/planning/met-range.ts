/** Head that set yards meet, as a range: nobody knows whether animals keep to one water. */
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type DrinkingGroup, shareAt } from './drinking-groups.ts'

/** A group and the limits of its head. */
export interface RangedGroup {
  readonly group: DrinkingGroup
  readonly head: RateInterval
}

export interface MetRange {
  readonly met: RateInterval
  /** Of the groups that drink at these points; those that do not are not met, and nothing of them shifts. */
  readonly notMet: RateInterval
}

/**
 * The middle takes each drink to fall on a water by chance (meet-most.ts). The low end takes every animal to keep to one
 * water, so that only the share q of them is met: 1 - (1 - x)^V is concave and no less than x, so by Jensen's inequality no
 * way of sharing the drinks out over the animals meets fewer. Both ends with the limits of the head.
 */
export function metRange(groups: readonly RangedGroup[], points: Iterable<number>): MetRange {
  const set = [...new Set(points)]
  const met = { low: 0, rate: 0, high: 0 }
  const notMet = { low: 0, rate: 0, high: 0 }
  for (const { group, head } of groups) {
    const share = shareAt(group, set)
    if (share === 0) continue
    const byChance = 1 - (1 - share) ** group.drinks
    met.low += head.low * share
    met.rate += head.rate * byChance
    met.high += head.high * byChance
    notMet.low += head.low * (1 - byChance)
    notMet.rate += head.rate * (1 - byChance)
    notMet.high += head.high * (1 - share)
  }
  return { met, notMet }
}
