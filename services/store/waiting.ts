/** What the queue asks of the ledger: which stills wait, where their bytes are, and what to write when all tries failed. */
import type { Ledger } from './open.ts'

/** Ids of stills still to be looked at, in order of arrival, without those already in hand. */
export async function findWaiting(
  ledger: Ledger,
  { limit, except }: { readonly limit: number; readonly except: readonly number[] },
): Promise<number[]> {
  const rows = await ledger
    .selectFrom('stills')
    .select('id')
    .where('state', '=', 'received')
    .$if(except.length > 0, (query) => query.where('id', 'not in', except))
    .orderBy('id')
    .limit(limit)
    .execute()
  return rows.map((row) => row.id)
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
