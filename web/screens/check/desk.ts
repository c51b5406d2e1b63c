/**
 * What has been said on Photos to check: pure functions over plain records. The service has the last word; until its
 * answer is in, what was said here stands on the page.
 */
import type { CheckCard, Still } from '../../../services/http/shapes.ts'
import { type CardWord, wordOnCard } from '../../../services/tally/card-word.ts'
import type { WholeWord } from '../../../services/tally/whole-word.ts'
import { MARKS, type Mark, SPECIES, type Species } from '../../../services/words.ts'
import type { Saying, Word } from '../../api/words.ts'
import {
  afterWords,
  type CardNow,
  cardNow,
  type StillNow,
  sameWord,
  stillNow,
  wordsBack,
} from './standing.ts'

/** One thing done, and the words that undo it. */
export interface Step {
  /** The batch that said it. */
  readonly batch: string
  readonly cardKey: string
  readonly night: string
  /** Where the card is found. */
  readonly which: 'flagged' | 'plain'
  readonly back: readonly Word[]
  /** What stood on each photo once it was said. */
  readonly after: ReadonlyArray<{ readonly stillId: number; readonly word: WholeWord | null }>
  /** The checks that the service wrote for it; absent until it has answered, and after a reload. */
  readonly checks?: readonly SaidCheck[]
}

/** A check as it was written for this page. */
export interface SaidCheck {
  readonly id: number
  readonly stillId: number
}

/** A photo as the service gave it after it gave its card. */
export interface Fresh {
  readonly still: Still
  /** By this page's clock. */
  readonly at: number
}

export interface Desk {
  /** Said here and not answered yet, in the order they were said. */
  readonly waiting: readonly Saying[]
  readonly fresh: ReadonlyMap<number, Fresh>
  /** Oldest first; undo takes the last. */
  readonly steps: readonly Step[]
  /** Ids of the checks that were written for this page. */
  readonly own: ReadonlySet<number>
}

export const emptyDesk: Desk = { waiting: [], fresh: new Map(), steps: [], own: new Set() }

/** The card as it stands now, each photo by the service's latest word or what was said here since. */
export function standingCard(desk: Desk, card: CheckCard): CardNow {
  return cardNow(card, (still) => standing(desk, still))
}

export function standing(desk: Desk, still: Still): StillNow {
  return stillNow(desk.fresh.get(still.id)?.still ?? still, desk.waiting)
}

/** The words for a word on a card, seen on the photo shown. */
export function wordsOnCard(card: CardNow, said: { shownId: number; word: CardWord }): Word[] {
  const { word } = said
  const stills = card.stills.map(({ id, tally, machineTally, word: stands }) => ({
    id,
    tally,
    machineTally,
    others: stands?.others ?? null,
  }))
  return wordOnCard({ stills, ...said }).map((one): Word => {
    const drawn = card.stills.find(({ id }) => id === one.stillId)?.word?.boxes ?? []
    // What was drawn as one species is the other now.
    const boxes =
      word.kind === 'species' && drawn.length > 0
        ? { boxes: drawn.map((box) => (box.species === word.from ? { ...box, species: word.to } : box)) }
        : {}
    return one.verdict === 'agreed'
      ? { stillId: one.stillId, verdict: 'agreed', ...boxes }
      : {
          stillId: one.stillId,
          verdict: 'corrected',
          counts: one.counts,
          ...(one.others && { others: one.others }),
          ...boxes,
        }
  })
}

/** The words that mark every photo of a card, or take the mark off all of them. */
export function wordsToMark(card: CardNow, mark: Mark, on: boolean): Word[] {
  return card.stills.map(({ id, word }) => {
    const stood = word?.marks ?? []
    const marks = MARKS.filter((one) => (one === mark ? on : stood.includes(one)))
    return { stillId: id, verdict: 'marked', marks }
  })
}

/** The desk after words on a card were put in under an id, and the step that takes them back. */
export function said(
  desk: Desk,
  card: CardNow,
  saying: Saying,
): { readonly desk: Desk; readonly step: Step } {
  const spoken = new Set(saying.words.map(({ stillId }) => stillId))
  const before = card.stills.filter(({ id }) => spoken.has(id))
  const step: Step = {
    batch: saying.batch,
    cardKey: card.key,
    night: card.night,
    which: card.why === 'plain' ? 'plain' : 'flagged',
    back: before.flatMap(wordsBack),
    after: before.map((still) => ({ stillId: still.id, word: afterWords(still, saying.words).word })),
  }
  return { desk: { ...desk, waiting: [...desk.waiting, saying], steps: [...desk.steps, step] }, step }
}

/**
 * The last step and the words that take it back; null if none is left. Where somebody else has spoken of a photo since,
 * theirs is the later word and stays.
 */
export function lastStep(
  desk: Desk,
  cards: readonly CardNow[],
): { readonly step: Step; readonly words: readonly Word[]; readonly spokenOver: boolean } | null {
  const step = desk.steps.at(-1)
  if (step === undefined) return null
  const stills = cards.find(({ key, night }) => key === step.cardKey && night === step.night)?.stills ?? []
  const over = new Set(stills.filter((still) => isSpokenOver(still, step, desk.own)).map(({ id }) => id))
  const words = step.back.filter(({ stillId }) => !over.has(stillId))
  return { step, words, spokenOver: over.size > 0 }
}

/** A later word is a later word, also one that says the same. */
function isSpokenOver(still: StillNow, { after, checks }: Step, own: ReadonlySet<number>): boolean {
  const stood = after.find(({ stillId }) => stillId === still.id)
  if (stood === undefined) return false
  if (!sameWord(still.word, stood.word)) return true
  const written = checks?.find(({ stillId }) => stillId === still.id)
  return (
    written !== undefined && still.check !== null && still.check.id > written.id && !own.has(still.check.id)
  )
}

/** The last step is taken back; what takes it back was put in as `saying`, if there was anything to say. */
export function undone(desk: Desk, saying: Saying | null): Desk {
  const waiting = saying === null ? desk.waiting : [...desk.waiting, saying]
  return { ...desk, waiting, steps: desk.steps.slice(0, -1) }
}

/** The service has a batch: the checks it wrote, and its photos as they stand. */
export function taken(
  desk: Desk,
  batch: string,
  {
    checks,
    stills,
    at,
  }: { readonly checks: readonly SaidCheck[]; readonly stills: readonly Still[]; readonly at: number },
): Desk {
  return {
    ...withFresh(desk, stills, at),
    waiting: desk.waiting.filter((one) => one.batch !== batch),
    steps: desk.steps.map((step) => (step.batch === batch ? { ...step, checks } : step)),
    own: new Set([...desk.own, ...checks.map(({ id }) => id)]),
  }
}

/** The service does not want a batch: it is off the page, and there is nothing to take back. */
export function dropped(desk: Desk, batch: string): Desk {
  return {
    ...desk,
    waiting: desk.waiting.filter((one) => one.batch !== batch),
    steps: desk.steps.filter((step) => step.batch !== batch),
  }
}

/** The service gave photos as they stand now. */
export function withFresh(desk: Desk, stills: readonly Still[], at: number): Desk {
  const fresh = new Map(desk.fresh)
  for (const still of stills) fresh.set(still.id, { still, at })
  return { ...desk, fresh }
}

/** Cards that were asked for at `askedAt` are in: what is older than they are is in them. */
export function answered(desk: Desk, askedAt: number): Desk {
  const fresh = new Map([...desk.fresh].filter(([, { at }]) => at > askedAt))
  return fresh.size === desk.fresh.size ? desk : { ...desk, fresh }
}

/** The species a card's buttons count: feral before stock, then most head in the photo shown, then its best box. */
export function countedSpecies(
  card: Pick<CheckCard, 'peaks'>,
  shown: Pick<Still, 'tally' | 'boxes'>,
  feral: ReadonlySet<Species>,
): Species[] {
  const headOf = (species: Species) => shown.tally[species] ?? 0
  const there = SPECIES.filter((species) => (card.peaks[species] ?? 0) > 0)
  const order = [...there].sort(
    (a, b) => Number(feral.has(b)) - Number(feral.has(a)) || headOf(b) - headOf(a),
  )
  if (order.length > 0) return order
  const guess = shown.boxes[0]?.species
  return guess === undefined ? [] : [guess]
}
