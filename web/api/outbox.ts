/**
 * Words on their way to the service: sent one batch after another in the order they were said, kept and sent
 * again while the link is down. A batch the service refuses is dropped and reported: it would be refused again.
 */
import { type Failure, failureOf } from './ask.ts'

export interface OutboxState {
  /** Batches not yet taken by the service. */
  readonly waiting: number
  /** Why the last try failed; null when it went well or is under way. */
  readonly failure: Failure | null
  /** The last refusal, until the next batch is put in. */
  readonly refused: Failure | null
}

export interface Outbox<Batch> {
  readonly put: (batch: Batch) => void
  readonly sendNow: () => void
  readonly state: () => OutboxState
}

interface OutboxGiven<Batch> {
  readonly send: (batch: Batch) => Promise<void>
  readonly changed: (state: OutboxState) => void
  /** Calls `act` after so many milliseconds; given so that tests need no clock. */
  readonly later: (act: () => void, ms: number) => void
}

const RETRY_FIRST_MS = 2_000
const RETRY_MOST_MS = 30_000

export function openOutbox<Batch>({ send, changed, later }: OutboxGiven<Batch>): Outbox<Batch> {
  const batches: Batch[] = []
  let sending = false
  let failure: Failure | null = null
  let refused: Failure | null = null
  let waitMs = RETRY_FIRST_MS

  const state = (): OutboxState => ({ waiting: batches.length, failure, refused })

  const run = async () => {
    const [batch] = batches
    if (sending || batch === undefined) return
    sending = true
    try {
      await send(batch)
      batches.shift()
      failure = null
      waitMs = RETRY_FIRST_MS
    } catch (thrown) {
      const why = failureOf(thrown)
      if (why.status !== null && why.status < 500) {
        batches.shift()
        refused = why
      } else {
        failure = why
        later(run, waitMs)
        waitMs = Math.min(RETRY_MOST_MS, waitMs * 2)
      }
    }
    sending = false
    changed(state())
    if (failure === null) void run()
  }

  return {
    put: (batch) => {
      batches.push(batch)
      refused = null
      changed(state())
      if (failure === null) void run()
    },
    sendNow: () => void run(),
    state,
  }
}
