/** What the service and its eye say to each other (child_process, serialization 'advanced'). */
import type { Looked, ModelIdentity } from '../services/words.ts'
import type { LookOptions } from './eye/look.ts'
import type { ChosenPlan } from './eye/open.ts'

/** A still's bytes, or the absolute path of a file that holds them; and how it is to be looked at. */
export type StillSource = (StillFile | { readonly bytes: Uint8Array }) & LookOptions

export interface StillFile {
  readonly file: string
  /** In hexadecimal digits; where it is said, other bytes are not looked at. */
  readonly sha256?: string
}

export type ToEye = {
  readonly type: 'look'
  /** Chosen by the service; comes back with the answer. */
  readonly id: number
  readonly still: StillSource
}

export type FromEye =
  | { readonly type: 'ready'; readonly models: ModelIdentity; readonly plan: ChosenPlan }
  /** The models cannot be used; the eye ends with code 1 after it. */
  | { readonly type: 'failed'; readonly detail: string; readonly remedy: string }
  | { readonly type: 'looked'; readonly id: number; readonly looked: Looked }
  /** One look failed for a reason that is not the still's own; it may be tried again. */
  | { readonly type: 'error'; readonly id: number; readonly message: string }
