/**
 * What has been said in this session on Photos to check: pure functions over plain records. The service has the
 * last word; until its answer is in, what was said here stands on the page.
 */
import type { CheckCard, Still } from '../../../services/http/shapes.ts'
import { type CardWord, wordOnCard } from '../../../services/tally/cards.ts'
import { SPECIES, type Species, type Tally } from '../../../services/words.ts'
import type { Word } from '../../api/words.ts'

type Verdict = Word['verdict']

/** How a photo stands once a word has been said here. */
export interface Said {
  readonly tally: Tally
  readonly verdict: Verdict
}

/** One thing done, and the words that undo it. */
export interface Step {
  readonly cardKey: string
  readonly night: string
  readonly back: readonly Word[]
}

export interface Desk {
  readonly said: ReadonlyMap<number, Said>
  /** Oldest first; undo takes the last. */
  readonly steps: readonly Step[]
}

export const emptyDesk: Desk = { said: new Map(), steps: [] }

/** A photo as it stands now: the service's answer, or what was said here since. */
export function standing(desk: Desk, still: Still): Said {
  const said = desk.said.get(still.id)
  if (said !== undefined) return said
  return { tally: still.tally, verdict: still.check?.verdict ?? 'withdrawn' }
}

/** The card's photos with what stands on each. */
export function standingCard(desk: Desk, card: CheckCard): CheckCard {
  const stills = card.stills.map((still) => ({ ...still, tally: standing(desk, still).tally }))
  const best = stills.find((still) => still.id === card.best.id) ?? card.best
  return { ...card, stills, best, peaks: peaksOf(stills), checked: isChecked(desk, card) }
}

/** True when somebody's word stands on every photo of the card. */
export function isChecked(desk: Desk, card: CheckCard): boolean {
  if (!card.stills.some((still) => desk.said.has(still.id))) return card.checked
  return card.stills.every((still) => standing(desk, still).verdict !== 'withdrawn')
}

function peaksOf(stills: readonly Still[]): Tally {
  const peaks = SPECIES.map(
    (species) => [species, Math.max(...stills.map((still) => still.tally[species] ?? 0))] as const,
  )
  return Object.fromEntries(peaks.filter(([, peak]) => peak > 0))
}

/** A word on a card, seen on the photo shown: the desk afterwards, and the words to send. */
export function sayOnCard(
  desk: Desk,
  card: CheckCard,
  said: { shownId: number; word: CardWord },
): [Desk, Word[]] {
  const stills = card.stills.map(({ id, tally, machineTally }) => ({
    id,
    tally: desk.said.get(id)?.tally ?? tally,
    machineTally,
  }))
  const words = wordOnCard({ stills, ...said }).map(
    (word): Word =>
      word.verdict === 'agreed'
        ? { stillId: word.stillId, verdict: 'agreed' }
        : { stillId: word.stillId, verdict: 'corrected', counts: word.counts },
  )
  const back = card.stills.map((still) => wordBack(desk, still))
  const step = { cardKey: card.key, night: card.night, back }
  return [{ said: withWords(desk, card, words), steps: [...desk.steps, step] }, words]
}

/** Takes the last step back: the desk afterwards, the words to send and the card it was on; null if none is left. */
export function undoStep(
  desk: Desk,
  cards: readonly CheckCard[],
): { desk: Desk; words: readonly Word[]; step: Step } | null {
  const step = desk.steps[desk.steps.length - 1]
  if (step === undefined) return null
  const card = cards.find(({ key, night }) => key === step.cardKey && night === step.night)
  const said = card === undefined ? desk.said : withWords(desk, card, step.back)
  return { desk: { said, steps: desk.steps.slice(0, -1) }, words: step.back, step }
}

/** Once the service's answer holds everything said, its answer stands alone again. */
export function answered(desk: Desk): Desk {
  return desk.said.size === 0 ? desk : { ...desk, said: new Map() }
}

function withWords(desk: Desk, card: CheckCard, words: readonly Word[]): Map<number, Said> {
  const said = new Map(desk.said)
  for (const word of words) {
    const machineTally = card.stills.find((still) => still.id === word.stillId)?.machineTally ?? {}
    const tally = word.verdict === 'corrected' ? word.counts : machineTally
    said.set(word.stillId, { tally, verdict: word.verdict })
  }
  return said
}

/** The word that puts a photo back to how it stands now. */
function wordBack(desk: Desk, still: Still): Word {
  const { tally, verdict } = standing(desk, still)
  if (verdict === 'corrected') return { stillId: still.id, verdict, counts: tally }
  if (verdict === 'marked') return { stillId: still.id, verdict, marks: still.check?.marks ?? [] }
  return { stillId: still.id, verdict }
}

/** The species a card's buttons count: feral before stock, then most head in the photo shown, then its best box. */
export function countedSpecies(card: CheckCard, shown: Still, feral: ReadonlySet<Species>): Species[] {
  const headOf = (species: Species) => shown.tally[species] ?? 0
  const there = SPECIES.filter((species) => (card.peaks[species] ?? 0) > 0)
  const order = [...there].sort(
    (a, b) => Number(feral.has(b)) - Number(feral.has(a)) || headOf(b) - headOf(a),
  )
  if (order.length > 0) return order
  const guess = shown.boxes[0]?.species
  return guess === undefined ? [] : [guess]
}
