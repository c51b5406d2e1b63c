/** Which photos would teach the station's own namer most. */
import type { Species, ThresholdsBySpecies } from '../words.ts'

/**
 * How undecided a namer is: 1 less the lead of its best kind over its second, 0 (sure) to 1 (two kinds alike). A word on
 * the most undecided crops teaches most (margin sampling: Scheffer, Decomain & Wrobel 2001, doi:10.1007/3-540-44816-0_31).
 * @throws RangeError with fewer than two probabilities
 */
export function undecided(probabilities: readonly number[]): number {
  if (probabilities.length < 2) throw new RangeError('a namer decides between two kinds at least')
  const [best, second] = [...probabilities].sort((a, b) => b - a)
  return 1 - (best! - second!)
}

export interface TeachingBox {
  readonly species: Species
  readonly score: number
  /** What the namer says of each kind, at least 0; they need not sum to 1. */
  readonly scores: readonly number[]
}

/**
 * How much a word on these boxes would teach: that of the box on which the namer is least decided, 0 to 1. Boxes that are
 * not worth a look teach nothing that is asked of a person.
 */
export function wouldTeach(boxes: readonly TeachingBox[], thresholds: ThresholdsBySpecies): number {
  return Math.max(
    0,
    ...boxes
      .filter(({ species, score }) => score >= thresholds[species].flag)
      .map(({ scores }) => {
        const sum = scores.reduce((all, one) => all + one, 0)
        return sum > 0 ? undecided(scores.map((score) => score / sum)) : 0
      }),
  )
}
