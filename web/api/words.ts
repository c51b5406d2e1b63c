/** A person's word on one photo, as the service takes it (POST /api/checks). */
import type { Mark, Tally } from '../../services/words.ts'

export type Word =
  | { readonly stillId: number; readonly verdict: 'agreed' }
  | { readonly stillId: number; readonly verdict: 'corrected'; readonly counts: Tally }
  | { readonly stillId: number; readonly verdict: 'marked'; readonly marks: readonly Mark[] }
  | { readonly stillId: number; readonly verdict: 'withdrawn' }
