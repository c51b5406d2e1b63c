/** A person's word on one photo, as the service takes it (POST /api/checks). */
import type { ChecksRecorded } from '../../services/http/shapes.ts'
import type { DrawnBox, Mark, Others, Tally } from '../../services/words.ts'

/** Left out: as they stood. */
interface Beside {
  readonly stillId: number
  readonly marks?: readonly Mark[]
  readonly boxes?: readonly DrawnBox[]
}

export type Word =
  | (Beside & { readonly verdict: 'agreed' })
  | (Beside & { readonly verdict: 'corrected'; readonly counts: Tally; readonly others?: Others })
  | { readonly stillId: number; readonly verdict: 'marked'; readonly marks: readonly Mark[] }
  | { readonly stillId: number; readonly verdict: 'withdrawn' }

/** Words that go together, under an id of this page's making: sent twice they are said once. */
export interface Saying {
  readonly batch: string
  readonly words: readonly Word[]
}

export type SayingAnswer = ChecksRecorded
