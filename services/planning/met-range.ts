/** Head that set yards meet, as a range: nobody knows whether animals keep to one water. */
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type DrinkingGroup, shareAt } from './drinking-groups.ts'
import { headMet } from './meet-most.ts'
import { shiftToOthers } from './shift-to-others.ts'

/** A group and the limits of its head. */
export interface RangedGroup {
  readonly group: DrinkingGroup
  readonly head: RateInterval
}

const SAME = 1e-9

export interface MetRange {
  readonly met: RateInterval
  /** The middle again if every animal keeps to one water: the share of head that drinks at these. */
  readonly metIfKeeping: number
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
  const touched = touchedBy(groups, set).map(({ group, head }) => {
    const share = shareAt(group, set)
    // Shares of all waters add up to 1 but for the last digits.
    const keeping = share > 1 - SAME ? 1 : share
    return { head, keeping, byChance: 1 - (1 - keeping) ** group.drinks }
  })
  const sum = (of: (one: (typeof touched)[number]) => number) =>
    touched.reduce((total, one) => total + of(one), 0)
  return {
    met: {
      low: sum(({ head, keeping }) => head.low * keeping),
      rate: sum(({ head, byChance }) => head.rate * byChance),
      high: sum(({ head, byChance }) => head.high * byChance),
    },
    metIfKeeping: sum(({ head, keeping }) => head.rate * keeping),
    notMet: {
      low: sum(({ head, byChance }) => head.low * (1 - byChance)),
      rate: sum(({ head, byChance }) => head.rate * (1 - byChance)),
      high: sum(({ head, keeping }) => head.high * (1 - keeping)),
    },
  }
}

/** Head at a water, between the two ways in which drinks may fall. */
export interface HeadBetween {
  readonly pointId: number
  readonly low: number
  readonly high: number
}

/** Where those shift that are not met, most first; of groups that no set point touches nothing shifts. */
export function shiftRange(groups: readonly RangedGroup[], points: Iterable<number>): HeadBetween[] {
  const set = [...new Set(points)]
  const touched = touchedBy(groups, set).map(({ group }) => group)
  const byChance = shiftToOthers(touched, set).to
  return shiftToOthers(touched.map(keepingToOne), set).to.map(({ pointId, head }) => ({
    pointId,
    low: byChance.find((one) => one.pointId === pointId)?.head ?? 0,
    high: head,
  }))
}

/** What one more point would add, between the two ways. */
export function addedBy(
  groups: readonly RangedGroup[],
  { set, pointId }: { readonly set: readonly number[]; readonly pointId: number },
): HeadBetween {
  const all = groups.map(({ group }) => group)
  const gain = (of: readonly DrinkingGroup[]) => headMet(of, [...set, pointId]) - headMet(of, set)
  const [byChance, keeping] = [gain(all), gain(all.map(keepingToOne))]
  return { pointId, low: Math.min(byChance, keeping), high: Math.max(byChance, keeping) }
}

/** An animal that drinks at one water only is met, or not, at its first drink. */
const keepingToOne = (group: DrinkingGroup): DrinkingGroup => ({ ...group, drinks: 1 })

const touchedBy = (groups: readonly RangedGroup[], set: readonly number[]) =>
  groups.filter(({ group }) => shareAt(group, set) > 0)
