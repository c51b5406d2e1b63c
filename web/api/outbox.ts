/**
 * Words on their way to the service: sent one batch after another in the order they were said, kept and sent again while
 * the link is down, over a reload too. A batch the service refuses is dropped and reported: it would be refused again.
 */
import { type Failure, failureOf } from './ask.ts'
import type { Shelf } from './shelf.ts'

export interface OutboxState {
  /** Batches not yet taken by the service. */
  readonly waiting: number
  /** Why the last try failed; null when it went well or is under way. */
  readonly failure: Failure | null
  /** The last refusal, until the next batch is put in. */
  readonly refused: Failure | null
  /** Whether what waits outlives this page. */
  readonly lasts: boolean
}

export interface Outbox<Batch> {
  /** Resolves once it is on the shelf. */
  readonly put: (batch: Batch) => Promise<void>
  readonly sendNow: () => void
  readonly state: () => OutboxState
  /** Oldest first. */
  readonly waiting: () => readonly Batch[]
  /** What an earlier page left unsent, once it is read; it goes before anything put in here. */
  readonly left: Promise<readonly Batch[]>
}

interface OutboxGiven<Batch, Answer> {
  readonly send: (batch: Batch) => Promise<Answer>
  readonly shelf: Shelf<Batch>
  readonly changed: (state: OutboxState) => void
  /** The service has it. */
  readonly taken?: (batch: Batch, answer: Answer) => void
  /** The service does not want it: called before it leaves the shelf, for whoever keeps it elsewhere. */
  readonly keepRefused?: (batch: Batch, why: Failure) => Promise<void>
  /** It has left. */
  readonly dropped?: (batch: Batch) => void
  /** Calls `act` after so many milliseconds; given so that tests need no clock. */
  readonly later: (act: () => void, ms: number) => void
}

interface Waiting<Batch> {
  readonly batch: Batch
  readonly key: Promise<number>
}

const RETRY_FIRST_MS = 2_000
const RETRY_MOST_MS = 30_000
/** What sent again would be refused again. Anything else may go through later. */
const REFUSALS = new Set([400, 404, 409, 413, 422])

export function openOutbox<Batch, Answer>(given: OutboxGiven<Batch, Answer>): Outbox<Batch> {
  const { send, shelf, changed, later } = given
  const batches: Waiting<Batch>[] = []
  let sending = true
  let failure: Failure | null = null
  let refused: Failure | null = null
  let waitMs = RETRY_FIRST_MS

  const state = (): OutboxState => ({ waiting: batches.length, failure, refused, lasts: shelf.lasts() })

  const leave = async ({ key }: Waiting<Batch>) => {
    batches.shift()
    await shelf.remove(await key)
  }

  const run = async () => {
    const [first] = batches
    if (sending || first === undefined) return
    sending = true
    try {
      // Kept before it is sent: an answer that never comes must find it again.
      await first.key
      const answer = await send(first.batch)
      await leave(first)
      failure = null
      waitMs = RETRY_FIRST_MS
      given.taken?.(first.batch, answer)
    } catch (thrown) {
      const why = failureOf(thrown)
      if (why.status !== null && REFUSALS.has(why.status)) {
        await given.keepRefused?.(first.batch, why)
        await leave(first)
        refused = why
        given.dropped?.(first.batch)
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

  const left = shelf.all().then((kept) => {
    const early = batches.splice(0)
    for (const { key, value } of kept) {
      batches.push({ batch: value, key: Promise.resolve(key) })
    }
    batches.push(...early)
    sending = false
    changed(state())
    void run()
    return kept.map(({ value }) => value)
  })

  return {
    put: (batch) => {
      // Not on the shelf before it has been read, or it would be found there as left by an earlier page.
      const key = left.then(() => shelf.put(batch))
      batches.push({ batch, key })
      refused = null
      changed(state())
      if (failure === null) void run()
      return key.then(() => undefined)
    },
    sendNow: () => void run(),
    state,
    waiting: () => batches.map(({ batch }) => batch),
    left,
  }
}
