/** Animals that drink at some waters together, and how their drinks fall on them. */

export interface DrinkingGroup {
  /** Over 0. */
  readonly head: number
  /** The part of its drinks at each point, each 0 to 1, together at most 1; what is missing is drunk elsewhere. */
  readonly shares: ReadonlyMap<number, number>
  /** Drinks of one animal while the yards are set, at least 1. */
  readonly drinks: number
}

/**
 * A cluster's animals as one group, from animal-visits a night at each of its points: an animal drinks `drinksADay` times a
 * day (over 0), and the yards are set for `nights`. Null where none came.
 */
export function drinkingGroup(
  animalVisitsANight: ReadonlyMap<number, number>,
  { drinksADay, nights }: { readonly drinksADay: number; readonly nights: number },
): DrinkingGroup | null {
  const all = [...animalVisitsANight.values()].reduce((sum, rate) => sum + rate, 0)
  if (all === 0) return null
  return {
    head: all / drinksADay,
    shares: new Map([...animalVisitsANight].map(([pointId, rate]) => [pointId, rate / all])),
    // Less than one drink could not be met more often the longer a yard is set.
    drinks: Math.max(1, drinksADay * nights),
  }
}

/** The part of a group's drinks at these points, 0 to 1. */
export function shareAt({ shares }: DrinkingGroup, points: Iterable<number>): number {
  let sum = 0
  for (const pointId of points) sum += shares.get(pointId) ?? 0
  return Math.min(1, sum)
}
