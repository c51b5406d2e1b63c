/** Counts again in the background while a recount is due: batch by batch, with a breath between for whoever waits. */
import { setTimeout as wait } from 'node:timers/promises'
import type { Ledger } from '../store/open.ts'
import { recountNext, tellRecountFault } from '../store/recount.ts'

export interface Recounting {
  /** A recount is due, or goes on. */
  wake(): void
  /** Finishes the batch in hand. */
  stop(): Promise<void>
}

const BREATH_MS = 10
const AFTER_FAULT_MS = 10_000
/** The ledger is asked that often, should nobody have said that a recount is due. */
const ROUND_MS = 60_000

export function startRecounting(
  ledger: Ledger,
  { log, roundMs = ROUND_MS }: { readonly log: (line: string) => void; readonly roundMs?: number },
): Recounting {
  const stopping = new AbortController()
  let running: Promise<void> | null = null
  let again = false

  async function run(): Promise<void> {
    while (!stopping.signal.aborted) {
      again = false
      try {
        if (!(await recountNext(ledger)) && !again) return
        await rest(BREATH_MS)
      } catch (fault) {
        const reason = fault instanceof Error ? fault.message : String(fault)
        log(`counting again: ${reason}; going on in ${AFTER_FAULT_MS / 1000} s`)
        // With the database away there is nowhere to write it, and the log has it.
        await tellRecountFault(ledger, reason).catch(() => undefined)
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
