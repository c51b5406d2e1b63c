/** Puts photos in their places in the background, after times were put right or a camera's times were changed. */
import type { Ledger } from '../store/open.ts'
import { placeNext, tellPlacingFault } from '../store/placing.ts'
import { type Batches, startBatches } from './batches.ts'

export type Placing = Batches

export function startPlacing(
  ledger: Ledger,
  { log, roundMs }: { readonly log: (line: string) => void; readonly roundMs?: number },
): Placing {
  return startBatches({
    about: 'putting photos in their places',
    next: () => placeNext(ledger),
    tellFault: (reason) => tellPlacingFault(ledger, reason),
    log,
    roundMs,
  })
}
