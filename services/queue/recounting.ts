/** Counts again in the background while a recount is due. */
import type { Ledger } from '../store/open.ts'
import { recountNext, tellRecountFault } from '../store/recount.ts'
import { type Batches, startBatches } from './batches.ts'

export type Recounting = Batches

export function startRecounting(
  ledger: Ledger,
  { log, roundMs }: { readonly log: (line: string) => void; readonly roundMs?: number },
): Recounting {
  return startBatches({
    about: 'counting again',
    next: () => recountNext(ledger),
    tellFault: (reason) => tellRecountFault(ledger, reason),
    log,
    roundMs,
  })
}
