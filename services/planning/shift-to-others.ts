/** What a set yard does not meet shifts to other waters: shown beside the plan, and no part of what it is chosen by. */
import { type DrinkingGroup, shareAt } from './drinking-groups.ts'

export interface Shift {
  /** Head expected to meet no yard. */
  readonly notMet: number
  /** Where these drink, by their drinks at the points that are not set, most first. */
  readonly to: ReadonlyArray<{ readonly pointId: number; readonly head: number }>
  /** Of them, those that drink at waters no camera watches. */
  readonly elsewhere: number
}

/**
 * Head that is not met with yards at `set`, by where they drink. A group all of whose drinks are at set points has nowhere
 * to go, and is met.
 */
export function shiftToOthers(groups: readonly DrinkingGroup[], set: readonly number[]): Shift {
  const at = new Map<number, number>()
  let notMet = 0
  let elsewhere = 0
  for (const group of groups) {
    const atSet = shareAt(group, new Set(set))
    const left = group.head * (1 - atSet) ** group.drinks
    if (left === 0) continue
    notMet += left
    let toPoints = 0
    for (const [pointId, share] of group.shares) {
      if (set.includes(pointId) || share === 0) continue
      const head = left * (share / (1 - atSet))
      toPoints += head
      at.set(pointId, (at.get(pointId) ?? 0) + head)
    }
    elsewhere += Math.max(0, left - toPoints)
  }
  const to = [...at].map(([pointId, head]) => ({ pointId, head }))
  return { notMet, to: to.sort((a, b) => b.head - a.head || a.pointId - b.pointId), elsewhere }
}
