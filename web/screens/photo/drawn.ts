/** What drawing a box, or taking one away, says of the count. */
import { type DrawnBox, SPECIES, type Species } from '../../../services/words.ts'
import type { Word } from '../../api/words.ts'
import type { StillNow } from '../check/standing.ts'

type Drawn = Pick<StillNow, 'id' | 'tally' | 'machineTally' | 'word'>

/**
 * A box more. The camera missed the animal, so it is one more than the camera counted and than was drawn before; a count
 * that is as high already stays, because whoever said it may have had this animal in mind.
 */
export function withBox(still: Drawn, box: DrawnBox): Word {
  const boxes = [...(still.word?.boxes ?? []), box]
  const head = Math.max(still.tally[box.species] ?? 0, seen(still, boxes, box))
  return corrected(still, boxes, { ...still.tally, [box.species]: head })
}

/** A box less, and one animal less where the count was what camera and boxes come to. */
export function withoutBox(still: Drawn, at: number): Word {
  const before = still.word?.boxes ?? []
  const box = before[at]!
  const boxes = before.filter((_, index) => index !== at)
  const head = still.tally[box.species] ?? 0
  const { [box.species]: _, ...others } = still.tally
  const left = head === seen(still, before, box) ? head - 1 : head
  return corrected(still, boxes, left > 0 ? { ...others, [box.species]: left } : others)
}

/** Head of a box's species by camera and drawn boxes together. */
function seen(still: Drawn, boxes: readonly DrawnBox[], { species }: DrawnBox): number {
  return (still.machineTally[species] ?? 0) + boxes.filter((one) => one.species === species).length
}

function corrected(still: Drawn, boxes: readonly DrawnBox[], counts: StillNow['tally']): Word {
  const others = still.word?.others ?? null
  return {
    stillId: still.id,
    verdict: 'corrected',
    counts,
    boxes,
    ...(others !== null && { others }),
  }
}

/** What a box is most likely drawn round: what stands on the photo, else what the camera guessed, else cattle. */
export function likelySpecies(still: StillNow): Species {
  return SPECIES.find((species) => (still.tally[species] ?? 0) > 0) ?? still.boxes[0]?.species ?? 'cattle'
}
