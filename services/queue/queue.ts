/**
 * The queue's small interface. A queue is a hint that can be lost: the ledger is the truth, and whatever is `received`
 * there and not in hand is offered again.
 */

/** In the order they are taken up: fresh photos first, then old cards, and last what is looked at again. */
export const URGENCIES = ['today', 'old', 'again'] as const
export type Urgency = (typeof URGENCIES)[number]

export interface WaitingStill {
  readonly stillId: number
  readonly urgency: Urgency
  /** As the ledger had it when the still was offered; absent where it is to be asked before the look. */
  readonly look?: LookToTake | undefined
}

/** What an eye needs to be told of a still. */
export interface LookToTake {
  /** SHA-256 of its bytes, 64 hexadecimal digits. */
  readonly hash: string
  /** True for a camera whose large photos are searched in tiles as well. */
  readonly tiles: boolean
}

export interface QueueDepth {
  readonly waiting: number
  readonly inHand: number
  /** Since the start: stills that failed every try. */
  readonly givenUp: number
}

export interface Queue {
  /** A still waits. May be forgotten when the queue is full; the ledger brings it back. */
  offer(still: WaitingStill): void
  /** Asks the ledger now for what waits, instead of at the next round. */
  refill(): void
  /** What was offered is no longer so in the ledger: forgets what nobody has in hand, and asks for all that waits. */
  askAnew(): void
  depth(): QueueDepth
  /** False while a queue outside of this process cannot be reached: stills are taken, and wait in the ledger. */
  isUp(): boolean
  /** Takes nothing new and waits for what is in hand. */
  stop(): Promise<void>
}

/** What the queue needs from the house around it. */
export interface QueueWork {
  /** What waits in the ledger, the most urgent first, without the ids given. */
  readonly findWaiting: (ask: {
    readonly limit: number
    readonly except: readonly number[]
  }) => Promise<WaitingStill[]>
  /** Looks at one still and writes down what was seen. */
  readonly process: (still: WaitingStill) => Promise<void>
  /** Every try failed: keeps the reason, so that the still no longer waits. */
  readonly giveUp: (still: WaitingStill, reason: string) => Promise<void>
  readonly log: (line: string) => void
}

/**
 * Thrown by `process` when the fault is not the still's: the database is away, or the eye fell over while it held other
 * stills too. The try does not count. `alone`: try this one with nothing else in hand, to learn whose fault it is.
 */
export class NotTheStillsFault extends Error {
  readonly alone: boolean

  constructor(message: string, { alone }: { readonly alone: boolean }) {
    super(message)
    this.name = 'NotTheStillsFault'
    this.alone = alone
  }
}
