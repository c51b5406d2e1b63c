/** What a station counts of a box, and how right that is. */
import { bestSpecies, pooledScores } from '../../worker/eye/pool.ts'
import type { Name, Species } from '../words.ts'

/** A box is counted at or over its species' mark; 0 to 1. */
export type CountMarks = Readonly<Record<Species, number>>

/** The species a box is counted as once both models have spoken; "other" where it is under the mark, so not counted. */
export function countedAs(
  box: { readonly detector: readonly number[]; readonly namer: readonly number[] },
  marks: CountMarks,
): Name {
  const { species, score } = bestSpecies(pooledScores(box))
  return score >= marks[species] ? species : 'other'
}
