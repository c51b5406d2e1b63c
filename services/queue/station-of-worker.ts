import type { StillSource } from '../../worker/messages.ts'
import type { Recorded } from '../store/results.ts'
import type { Looked } from '../words.ts'
import type { WaitingStill } from './queue.ts'

/** What became of a still. */
export type Outcome = Looked | { readonly kind: 'gave up'; readonly tries: number; readonly reason: string }

export interface DoneLook {
  readonly still: WaitingStill
  readonly outcome: Outcome
  /** From asking the eye to its answer, for those who watch the station. */
  readonly lookSeconds?: number | undefined
}

/** The station as a worker sees it, in this process or far away. Both throw NotTheStillsFault while it is away. */
export interface StationOfWorker {
  /** A still's bytes, or where they lie; null when it no longer waits. A Refusal ends the worker. */
  take(still: WaitingStill): Promise<StillSource | null>
  /** What became of each, in their order. Safe to call twice. A Refusal ends the worker; any other error may be of one of them only. */
  record(looks: readonly DoneLook[]): Promise<Recorded[]>
}
