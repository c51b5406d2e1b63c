/** What the service and its eye say to each other (child_process, serialization 'advanced'). */
import type { Looked, ModelIdentity } from '../services/words.ts'

/** A still's bytes, or the absolute path of a file that holds them. */
export type StillSource = { readonly file: string } | { readonly bytes: Uint8Array }

export type ToEye = {
  readonly type: 'look'
  /** Chosen by the service; comes back with the answer. */
  readonly id: number
  readonly still: StillSource
}

export type FromEye =
  | { readonly type: 'ready'; readonly models: ModelIdentity }
  /** The models cannot be used; the eye ends with code 1 after it. */
  | { readonly type: 'failed'; readonly detail: string; readonly remedy: string }
  | { readonly type: 'looked'; readonly id: number; readonly looked: Looked }
  /** One look failed for a reason that is not the still's own; it may be tried again. */
  | { readonly type: 'error'; readonly id: number; readonly message: string }
