/** What the boxes on a photo truly were, where a person's count of it settles that. */
import { type Name, SPECIES, type Species, type Tally, type ThresholdsBySpecies } from '../words.ts'
import type { NamedAnimal } from './confusion.ts'

interface NamedBox {
  readonly species: Species
  /** 0 to 1 */
  readonly score: number
}

/**
 * The counted boxes with their truth: `other` where nothing of the five was there. A count tells heads and not boxes, so
 * they are told only where there is one way to read it: nothing there; one species, and no more boxes than head, so that
 * each box stands for one of them; or each species as many as the machine counted. Null where it can't be told which box
 * is which.
 */
export function boxTruths(
  boxes: readonly NamedBox[],
  counts: Tally,
  thresholds: ThresholdsBySpecies,
): NamedAnimal<Name>[] | null {
  const counted = boxes.filter(({ species, score }) => score >= thresholds[species].count)
  const there = SPECIES.filter((species) => (counts[species] ?? 0) > 0)
  const [only] = there
  if (only === undefined) return counted.map(({ species }) => ({ named: species, truth: 'other' }))
  if (there.length === 1 && counted.length <= counts[only]!)
    return counted.map(({ species }) => ({ named: species, truth: only }))
  const agrees = SPECIES.every(
    (species) => counted.filter((box) => box.species === species).length === (counts[species] ?? 0),
  )
  return agrees ? counted.map(({ species }) => ({ named: species, truth: species })) : null
}
