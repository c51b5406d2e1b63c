/** What one word on a card of Photos to check says of each of its stills. Runs in the browser too. */
import { type Others, SPECIES, type Species, type Tally } from '../words.ts'

/** What a person says of a card, looking at the still that is shown. */
export type CardWord =
  | { readonly kind: 'agree' }
  | { readonly kind: 'nothing there' }
  | { readonly kind: 'count'; readonly species: Species; readonly head: number }
  | { readonly kind: 'species'; readonly from: Species; readonly to: Species }
  | { readonly kind: 'other'; readonly from: Species | null; readonly name: string }

/** A still as a word finds it: what stands, and what the models counted. */
export interface WordedStill {
  readonly id: number
  readonly tally: Tally
  readonly machineTally: Tally
  /** Kinds of the station's own that stand beside the count. */
  readonly others?: Others | null
}

export type StillWord =
  | { readonly stillId: number; readonly verdict: 'agreed'; readonly counts: null }
  | {
      readonly stillId: number
      readonly verdict: 'corrected'
      readonly counts: Tally
      readonly others?: Others
    }

/**
 * One word for every still of the card, in the order given.
 *
 * - `agree`: what stands on each still is right.
 * - `nothing there`: no animal on any of them.
 * - `count`: so many of that species on the still shown. On the others a higher count is lowered to it: the
 *   word is about the most that was there, and a lower one may well be right.
 * - `species`: what was called `from` is `to`, on every still, added to what is `to` already.
 * - `other`: what was called `from` is a kind of the station's own, on every still; one of it on the still shown where
 *   nothing was called so.
 *
 * A still whose counts come out as the models had them is `agreed`, any other `corrected`: so to agree with
 * an earlier correction keeps that correction.
 * @throws RangeError when the still shown is not on the card, or the head is not a whole number from 0.
 */
export function wordOnCard(given: {
  readonly stills: readonly WordedStill[]
  readonly shownId: number
  readonly word: CardWord
}): StillWord[] {
  const { stills, shownId, word } = given
  if (!stills.some(({ id }) => id === shownId)) throw new RangeError(`still ${shownId} is not on the card`)
  return stills.map((still) => {
    const counts = countsAfter(word, still.tally, still.id === shownId)
    const others = othersAfter(word, still, still.id === shownId)
    const told = Object.keys(others).length > 0
    return sameTally(counts, still.machineTally) && !told
      ? { stillId: still.id, verdict: 'agreed', counts: null }
      : { stillId: still.id, verdict: 'corrected', counts, ...(told && { others }) }
  })
}

function othersAfter(word: CardWord, still: WordedStill, shown: boolean): Others {
  const stood = still.others ?? {}
  if (word.kind === 'nothing there') return {}
  if (word.kind !== 'other') return stood
  const called = word.from === null ? 0 : (still.tally[word.from] ?? 0)
  const head = (stood[word.name] ?? 0) + called
  if (head > 0) return { ...stood, [word.name]: head }
  return shown ? { ...stood, [word.name]: 1 } : stood
}

function countsAfter(word: CardWord, tally: Tally, shown: boolean): Tally {
  switch (word.kind) {
    case 'agree':
      return tally
    case 'nothing there':
      return {}
    case 'other':
      return word.from === null ? tally : withHead(tally, word.from, 0)
    case 'count': {
      if (!Number.isInteger(word.head) || word.head < 0) throw new RangeError(`no head: ${word.head}`)
      const head = shown ? word.head : Math.min(word.head, tally[word.species] ?? 0)
      return withHead(tally, word.species, head)
    }
    case 'species': {
      if (word.from === word.to) return tally
      const head = (tally[word.to] ?? 0) + (tally[word.from] ?? 0)
      return withHead(withHead(tally, word.from, 0), word.to, head)
    }
  }
}

function withHead(tally: Tally, species: Species, head: number): Tally {
  const { [species]: _, ...others } = tally
  return head > 0 ? { ...others, [species]: head } : others
}

function sameTally(a: Tally, b: Tally): boolean {
  return SPECIES.every((species) => (a[species] ?? 0) === (b[species] ?? 0))
}
