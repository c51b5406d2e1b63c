/** What the queue asks of the ledger: which stills wait, where their bytes are, and what to write when all tries failed. */
import { sql } from 'kysely'
import type { WaitingStill } from '../queue/queue.ts'
import type { Instant } from '../words.ts'
import type { Ledger } from './open.ts'

/** Taken longer before its arrival, a photo comes from an old card and can wait; the index of 0002 says the same. */
const OLD_HOURS = 36
const OLD = sql<boolean>`(received_at - taken_at > interval '36 hours')`

export function isOld({ takenAt, receivedAt }: { takenAt: Instant; receivedAt: Instant }): boolean {
  return receivedAt - takenAt > OLD_HOURS * 3_600_000
}

/** Stills to be looked at, fresh ones first, then in order of arrival, without those already in hand. */
export async function findWaiting(
  ledger: Ledger,
  { limit, except }: { readonly limit: number; readonly except: readonly number[] },
): Promise<WaitingStill[]> {
  const rows = await ledger
    .selectFrom('stills')
    .select(['id', OLD.as('old')])
    .where('state', '=', 'received')
    .$if(except.length > 0, (query) => query.where('id', 'not in', except))
    .orderBy(OLD)
    .orderBy('id')
    .limit(limit)
    .execute()
  return rows.map(({ id, old }) => ({ stillId: id, urgency: old ? 'old' : 'today' }))
}

/** The content hash of a still that waits, or null when it no longer does. */
export async function findWaitingHash(ledger: Ledger, stillId: number): Promise<Buffer | null> {
  const row = await ledger
    .selectFrom('stills')
    .select('hash')
    .where('id', '=', stillId)
    .where('state', '=', 'received')
    .executeTakeFirst()
  return row?.hash ?? null
}
