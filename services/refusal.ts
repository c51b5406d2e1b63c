/** The one kind of error that is meant for a person: what was wrong, in which field, and what to do about it. */

export type RefusalKind =
  | 'bad input'
  /** Nobody can say who asks: no key, or a wrong one. */
  | 'not allowed'
  /** Whoever asks, not from there. */
  | 'forbidden'
  | 'not found'
  | 'too large'
  | 'conflict'
  /** More than a camera may send in a while. */
  | 'too many'
  /** The sender brought hardly anything for a while. */
  | 'too slow'
  | 'unavailable'
  /** The disk, or the place of the photos, is full. */
  | 'no room'

export interface RefusalDetail {
  readonly kind: RefusalKind
  /** What was expected and what came, as one sentence. */
  readonly detail: string
  /** The input's field (a JSON path, a header, an option), where one is to blame. */
  readonly field?: string
  /** What the sender or the owner can do now. */
  readonly remedy: string
  /** When it may be tried again, where that is known. */
  readonly retryAfterSeconds?: number
}

export class Refusal extends Error {
  readonly kind: RefusalKind
  readonly field: string | undefined
  readonly remedy: string
  readonly retryAfterSeconds: number | undefined

  constructor({ kind, detail, field, remedy, retryAfterSeconds }: RefusalDetail) {
    super(detail)
    this.name = 'Refusal'
    this.kind = kind
    this.field = field
    this.remedy = remedy
    this.retryAfterSeconds = retryAfterSeconds
  }
}
