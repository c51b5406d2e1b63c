/** What animals that are held at a point will want: sized for the high end, never for the middle. */
import type { Ratings } from '../tally/load.ts'
import type { Expectation } from './kept-target-list.ts'

/** Methods under which nothing is held; the owner may name others, and those are taken to hold. */
const HOLDS_NOTHING = ['aerial', 'ground']

export interface ToBring {
  /** The high end of what is expected on a night, or the largest group that was seen, whichever is more. */
  readonly head: number
  /** For that many, by the high end of the species' rating. */
  readonly litresADay: number
}

/** Null where nothing is held, or nobody knows how many come. */
export function toBring(
  { head, largestGroup }: Pick<Expectation, 'head' | 'largestGroup'>,
  { method, ratings }: { readonly method: string; readonly ratings: Ratings },
): ToBring | null {
  if (HOLDS_NOTHING.includes(method.trim().toLowerCase())) return null
  const most = Math.ceil(Math.max(head?.high ?? 0, largestGroup))
  return most === 0 ? null : { head: most, litresADay: Math.ceil(most * ratings.litres.high) }
}
