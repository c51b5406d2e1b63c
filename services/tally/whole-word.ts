/** A person's word on a photo, made whole: what it leaves unsaid goes on as it stood. */
import type { DrawnBox, Mark, Others, Tally } from '../words.ts'

/** What a person says of one photo. */
export interface SaidWord {
  readonly stillId: number
  readonly verdict: 'agreed' | 'corrected' | 'marked' | 'withdrawn'
  /** For `corrected`: head of each species; a zero or an absent species is not there. */
  readonly counts?: Partial<Record<string, number | undefined>> | undefined
  /** For `corrected`: head of kinds of the station's own. */
  readonly others?: Others | undefined
  /** Left out: as they stood. */
  readonly marks?: readonly Mark[] | undefined
  readonly boxes?: readonly DrawnBox[] | undefined
}

/** What stands of a photo by a word. */
export interface WholeWord {
  /** Null: nobody's word stands on the count. */
  readonly counts: Tally | null
  readonly others: Others | null
  readonly marks: readonly Mark[]
  readonly boxes: readonly DrawnBox[]
}

const NOTHING_SAID: WholeWord = { counts: null, others: null, marks: [], boxes: [] }

/**
 * What stands once `word` is said of a photo on which `before` stood (null: no word) and the models count
 * `machineTally`.
 *
 * - `agreed` freezes the models' count. `corrected` gives the count, and the kinds of the station's own beside it.
 * - `marked` says nothing of count and boxes, whoever gave them.
 * - Marks go on until a word says other marks, so that a person in the picture is not forgotten by a second pair of
 *   eyes that looks at the animals only. So do boxes, but for those of a species that is there no more.
 * - `withdrawn`: no word stands.
 */
export function wholeWord(word: SaidWord, before: WholeWord | null, machineTally: Tally): WholeWord {
  const stood = before ?? NOTHING_SAID
  switch (word.verdict) {
    case 'withdrawn':
      return NOTHING_SAID
    case 'marked':
      return { ...stood, marks: goingOn(word, stood, {}).marks }
    case 'agreed':
      return { counts: machineTally, others: null, ...goingOn(word, stood, machineTally) }
    case 'corrected': {
      const counts = headOf(word.counts ?? {})
      const others = word.others ?? {}
      return {
        counts,
        others: Object.keys(others).length === 0 ? null : others,
        ...goingOn(word, stood, counts),
      }
    }
  }
}

function goingOn(word: SaidWord, stood: WholeWord, counts: Tally): Pick<WholeWord, 'marks' | 'boxes'> {
  return {
    marks: word.marks === undefined ? stood.marks : [...new Set(word.marks)],
    boxes: word.boxes ?? stood.boxes.filter(({ species }) => (counts[species] ?? 0) > 0),
  }
}

function headOf(counts: Partial<Record<string, number | undefined>>): Tally {
  return Object.fromEntries(
    Object.entries(counts).filter(([, head]) => head !== undefined && head > 0),
  ) as Tally
}
