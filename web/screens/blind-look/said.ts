/** What has been said so far of the photos of one look: pure functions over plain records. */
import type { Species, Tally } from '../../../services/words.ts'

/** The service's own bound. */
const HEAD_MOST = 999

export interface LookInHand {
  /** Which photo is shown, from 0. */
  readonly at: number
  /** What is being counted on it. */
  readonly counts: Tally
  /** What was said of those before it. */
  readonly said: readonly Tally[]
}

export const startLook: LookInHand = { at: 0, counts: {}, said: [] }

/** One head of a species more, or fewer; none of it is not there. */
export function withHead(look: LookInHand, species: Species, by: number): LookInHand {
  const head = Math.min(HEAD_MOST, Math.max(0, (look.counts[species] ?? 0) + by))
  const { [species]: _, ...others } = look.counts
  return { ...look, counts: head === 0 ? others : { ...others, [species]: head } }
}

/** The photo shown has this on it: the next one is shown. */
export function saidOf(look: LookInHand, counts: Tally): LookInHand {
  return { at: look.at + 1, counts: {}, said: [...look.said.slice(0, look.at), counts] }
}

/** Back to the photo before, with what was said of it. */
export function stepBack(look: LookInHand): LookInHand {
  if (look.at === 0) return look
  return { at: look.at - 1, counts: look.said[look.at - 1] ?? {}, said: look.said.slice(0, look.at - 1) }
}

/** Nothing is on any photo. */
export const nothingInAny = (photos: number): LookInHand => ({
  at: photos,
  counts: {},
  said: Array.from({ length: photos }, () => ({})),
})
