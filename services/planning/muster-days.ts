/** The days of a muster: one yard is set, filled and trucked while the next is being set (common practice, no source). */

/** What is there to do it with. */
export interface MusterMeans {
  /** Sets of panels that move from point to point, whole, at least 0. */
  readonly portableYards: number
  /** Cattle a deck carries, and decks a truck, whole, over 0. */
  readonly headADeck: number
  readonly decksATruck: number
  readonly trucks: number
  /** Round trips of a truck in a day, whole, over 0. */
  readonly loadsADay: number
  /** Whole days of the one crew: to set up a portable yard (at least 0), and to muster and draft a point (at least 1). */
  readonly daysToSet: number
  readonly daysToMuster: number
}

export interface YardToFill {
  readonly pointId: number
  readonly fixedYard: boolean
  /** Head to truck from it, at least 0. */
  readonly head: number
}

/** Days count from 0, the first; each runs from `from` to the day before `to`. */
export interface YardDays {
  readonly pointId: number
  readonly decks: number
  readonly loads: number
  readonly set: { readonly from: number; readonly to: number }
  readonly muster: { readonly from: number; readonly to: number }
  readonly trucks: { readonly from: number; readonly to: number }
}

/**
 * The days of each point in the order given: one crew sets and musters, point after point, as soon as a yard is free; the
 * trucks go point after point as well; a portable yard is free the day after its last load.
 * @throws RangeError for means that are not whole or too small, and where a point has no yard and there is none to move
 */
export function musterDays(yards: readonly YardToFill[], means: MusterMeans): YardDays[] {
  checked(means)
  const freeOn = Array<number>(means.portableYards).fill(0)
  let crew = 0
  let trucks = 0
  return yards.map(({ pointId, fixedYard, head }) => {
    const decks = Math.ceil(head / means.headADeck)
    const loads = Math.ceil(decks / means.decksATruck)
    const yard = freeOn.indexOf(Math.min(...freeOn))
    if (!fixedYard && yard < 0)
      throw new RangeError(`point ${pointId} has no yard, and there is none to move there`)
    const setFrom = fixedYard ? crew : Math.max(crew, freeOn[yard]!)
    const setTo = setFrom + (fixedYard ? 0 : means.daysToSet)
    crew = setTo + means.daysToMuster
    const trucksFrom = Math.max(crew, trucks)
    trucks = trucksFrom + Math.ceil(loads / (means.trucks * means.loadsADay))
    if (!fixedYard) freeOn[yard] = trucks
    return {
      pointId,
      decks,
      loads,
      set: { from: setFrom, to: setTo },
      muster: { from: setTo, to: crew },
      trucks: { from: trucksFrom, to: trucks },
    }
  })
}

function checked(means: MusterMeans): void {
  const { portableYards, daysToSet, ...counts } = means
  for (const [name, value] of Object.entries(counts))
    if (!(Number.isInteger(value) && value >= 1))
      throw new RangeError(`${name} is a whole number over 0, not ${value}`)
  for (const value of [portableYards, daysToSet])
    if (!(Number.isInteger(value) && value >= 0))
      throw new RangeError(`yards and days are whole numbers, not ${value}`)
}
