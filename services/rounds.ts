/** What the service does every so often beside its work. */
import type { Ledger } from './store/open.ts'
import type { Instant } from './words.ts'

/** What such work is handed. */
export interface RoundsGiven {
  readonly ledger: Ledger
  readonly now: () => Instant
  readonly log: (line: string) => void
}

export interface Rounds {
  /** Sees now whether anything is due. */
  wake(): Promise<void>
  /** Finishes what is in hand. */
  stop(): Promise<void>
}

interface RoundsOptions {
  /** What it is, for the log: a fault is told and tried again in the next round. */
  readonly about: string
  readonly firstMs: number
  readonly roundMs: number
  readonly log: (line: string) => void
}

/** Does `work` in rounds, one at a time. `work` is to end soon once `shouldStop` says so. */
export function startRounds(
  work: (shouldStop: () => boolean) => Promise<void>,
  { about, firstMs, roundMs, log }: RoundsOptions,
): Rounds {
  let stopping = false
  let running: Promise<void> | null = null

  function wake(): Promise<void> {
    if (stopping) return Promise.resolve()
    running ??= work(() => stopping)
      .catch((fault: unknown) => {
        const reason = fault instanceof Error ? fault.message : String(fault)
        log(`${about}: ${reason}; tried again in ${Math.round(roundMs / 60_000)} minutes`)
      })
      .finally(() => {
        running = null
      })
    return running
  }

  const first = setTimeout(() => void wake(), firstMs)
  const round = setInterval(() => void wake(), roundMs)
  return {
    wake,
    async stop() {
      stopping = true
      clearTimeout(first)
      clearInterval(round)
      await running
    },
  }
}
