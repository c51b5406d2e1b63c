/** Holds a worker's results back for a moment, so that several go to the station together. */
import { type Call, serveTogether } from '../in-batches.ts'
import type { Recorded } from '../store/results.ts'
import type { DoneLook } from './station-of-worker.ts'

export interface GatheringRules {
  /** What became of each, in their order. */
  readonly send: (looks: readonly DoneLook[]) => Promise<readonly Recorded[]>
  /** Whether the eye has enough to go on with: only then is a result held back. */
  readonly mayHold: () => boolean
  /** A fault of all that was sent; after any other each is sent alone, so that one bad result does not fail the rest. */
  readonly isOfAll: (fault: unknown) => boolean
  readonly holdMs?: number
}

export interface Gathering {
  add(look: DoneLook): Promise<Recorded>
  /** `mayHold` may say otherwise now. */
  reconsider(): void
}

/** Held only while more photos wait, so that nobody waits for this one alone. */
export const HOLD_MS = 1_000
/** Far fewer are in hand. */
const MOST_AT_ONCE = 32

/** One sending at a time: what is looked at meanwhile goes with the next. */
export function gatherResults({ send, mayHold, isOfAll, holdMs = HOLD_MS }: GatheringRules): Gathering {
  const held: Array<Call<DoneLook, Recorded>> = []
  let timer: NodeJS.Timeout | undefined
  let sending = false

  function reconsider(): void {
    if (sending || held.length === 0) return
    if (!mayHold() || held.length >= MOST_AT_ONCE) void sendHeld()
    else timer ??= setTimeout(() => void sendHeld(), holdMs)
  }

  async function sendHeld(): Promise<void> {
    clearTimeout(timer)
    timer = undefined
    sending = true
    await serveTogether(held.splice(0, MOST_AT_ONCE), send, isOfAll)
    sending = false
    reconsider()
  }

  return {
    add: (look) =>
      new Promise((resolve, reject) => {
        held.push({ ask: look, resolve, reject })
        reconsider()
      }),
    reconsider,
  }
}
