import { sql } from 'kysely'
import type { Instant } from '../words.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface WaitingAges {
  /** Photos not looked at yet: those of today, and those of old cards. */
  readonly today: number
  readonly old: number
  /** When the one that waits longest came in; null where none waits. */
  readonly oldestAt: Instant | null
}

/** What waits in the ledger, whoever will look at it. Costs as much as there is waiting. */
export async function readWaitingAges(ledger: Ledger): Promise<WaitingAges> {
  const { rows } = await sql<{ today: number; old: number; oldest: Date | null }>`
    select count(*) filter (where not (received_at - taken_at > interval '36 hours'))::int as today,
      count(*) filter (where received_at - taken_at > interval '36 hours')::int as old,
      min(received_at) as oldest
    from stills where state = 'received'`.execute(ledger)
  const { today, old, oldest } = rows[0]!
  return { today, old, oldestAt: oldest === null ? null : toInstant(oldest) }
}
