/** Long work in the background, batch by batch, with a breath between for whoever waits. What is left stands in the ledger. */
import { setTimeout as wait } from 'node:timers/promises'

export interface Batches {
  /** There is work, or it goes on. */
  wake(): void
  /** Finishes the batch in hand. */
  stop(): Promise<void>
}

interface BatchWork {
  /** What it is, for the log. */
  readonly about: string
  /** Does a batch; false when there is nothing to do. */
  readonly next: () => Promise<boolean>
  /** Says on screen why it does not come on. */
  readonly tellFault: (reason: string) => Promise<void>
  readonly log: (line: string) => void
  readonly roundMs?: number | undefined
}

const BREATH_MS = 10
const AFTER_FAULT_MS = 10_000
/** The ledger is asked that often, should nobody have said that there is work. */
const ROUND_MS = 60_000

export function startBatches({ about, next, tellFault, log, roundMs = ROUND_MS }: BatchWork): Batches {
  const stopping = new AbortController()
  let running: Promise<void> | null = null
  let again = false

  async function run(): Promise<void> {
    while (!stopping.signal.aborted) {
      again = false
      try {
        if (!(await next()) && !again) return
        await rest(BREATH_MS)
      } catch (fault) {
        const reason = fault instanceof Error ? fault.message : String(fault)
        log(`${about}: ${reason}; going on in ${AFTER_FAULT_MS / 1000} s`)
        // With the database away there is nowhere to write it, and the log has it.
        await tellFault(reason).catch(() => undefined)
        await rest(AFTER_FAULT_MS)
      }
    }
  }

  const rest = (ms: number) => wait(ms, undefined, { signal: stopping.signal }).catch(() => undefined)

  function wake(): void {
    again = true
    if (running !== null || stopping.signal.aborted) return
    running = run().finally(() => {
      running = null
      // Somebody called in the moment between the last look and the end.
      if (again) wake()
    })
  }

  const round = setInterval(wake, roundMs)
  wake()
  return {
    wake,
    async stop() {
      clearInterval(round)
      stopping.abort()
      await running
    },
  }
}
