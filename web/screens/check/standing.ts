/** A photo as it stands on this page: what the service said last, and over it what was said here and is not answered yet. */
import type { CheckCard, Still } from '../../../services/http/shapes.ts'
import { type WholeWord, wholeWord } from '../../../services/tally/whole-word.ts'
import { type Mark, SPECIES, type Tally } from '../../../services/words.ts'
import type { Saying, Word } from '../../api/words.ts'

export interface StillNow extends Still {
  /** What stands by a person's word; null where none does. */
  readonly word: WholeWord | null
}

export interface CardNow extends Omit<CheckCard, 'best' | 'stills'> {
  readonly best: StillNow
  readonly stills: readonly StillNow[]
  /** On any of its photos. */
  readonly marks: ReadonlySet<Mark>
}

/** What the service says stands on a photo. */
export function wordOn(still: Still): WholeWord | null {
  if (still.check === null || still.check.verdict === 'withdrawn') return null
  const { counts, others, marks, boxes } = still.check
  return { counts, others, marks, boxes }
}

export function stillNow(still: Still, waiting: readonly Saying[]): StillNow {
  return afterWords(
    { ...still, word: wordOn(still) },
    waiting.flatMap(({ words }) => words),
  )
}

/** The photo once those of the words that are about it are said too. */
export function afterWords(still: StillNow, words: readonly Word[]): StillNow {
  const word = words
    .filter(({ stillId }) => stillId === still.id)
    .reduce((before, next) => standsAfter(next, before, still.machineTally), still.word)
  return { ...still, word, tally: word?.counts ?? still.machineTally }
}

function standsAfter(word: Word, before: WholeWord | null, machineTally: Tally): WholeWord | null {
  return word.verdict === 'withdrawn' ? null : wholeWord(word, before, machineTally)
}

export function cardNow(card: CheckCard, now: (still: Still) => StillNow): CardNow {
  const stills = card.stills.map(now)
  const best = stills.find(({ id }) => id === card.best.id) ?? stills[0]!
  return {
    ...card,
    stills,
    best,
    peaks: peaksOf(stills),
    marks: new Set(stills.flatMap(({ word }) => word?.marks ?? [])),
    checked: stills.every(isCounted),
  }
}

/** Somebody's word stands on its count. */
export function isCounted({ word }: StillNow): boolean {
  return word !== null && word.counts !== null
}

function peaksOf(stills: readonly StillNow[]): Tally {
  const peaks = SPECIES.map(
    (species) => [species, Math.max(...stills.map((still) => still.tally[species] ?? 0))] as const,
  )
  return Object.fromEntries(peaks.filter(([, peak]) => peak > 0))
}

/** The words that put a photo back to how it stands now, whatever is said in between. */
export function wordsBack(still: StillNow): Word[] {
  const { id: stillId, word, machineTally } = still
  const withdrawn: Word = { stillId, verdict: 'withdrawn' }
  if (word === null) return [withdrawn]
  const marks = [...word.marks]
  // Marks alone: no word on the count may stay behind.
  if (word.counts === null) return [withdrawn, { stillId, verdict: 'marked', marks }]
  const beside = { stillId, marks, boxes: [...word.boxes] }
  return sameTally(word.counts, machineTally) && word.others === null
    ? [{ ...beside, verdict: 'agreed' }]
    : [
        {
          ...beside,
          verdict: 'corrected',
          counts: word.counts,
          ...(word.others !== null && { others: word.others }),
        },
      ]
}

/** Whether the same stands by both words. */
export function sameWord(a: WholeWord | null, b: WholeWord | null): boolean {
  if (a === null || b === null) return a === b
  return (
    (a.counts === null ? b.counts === null : b.counts !== null && sameTally(a.counts, b.counts)) &&
    [...a.marks].sort().join() === [...b.marks].sort().join() &&
    JSON.stringify(a.others ?? {}) === JSON.stringify(b.others ?? {}) &&
    JSON.stringify(a.boxes) === JSON.stringify(b.boxes)
  )
}

function sameTally(a: Tally, b: Tally): boolean {
  return SPECIES.every((species) => (a[species] ?? 0) === (b[species] ?? 0))
}
