import { sql, type Transaction } from 'kysely'
import type { Tables } from './tables.ts'

/** Any fixed number: tells this lock from other advisory locks of the same database. */
const POINT_LOCK_SPACE = 4711

/**
 * One writer at a time works on a point's visits, nights and effort: two stills of one visit recorded at once would
 * otherwise each miss the other. Released when the transaction ends.
 */
export async function lockPoint(tx: Transaction<Tables>, pointId: number): Promise<void> {
  await sql`select pg_advisory_xact_lock(${POINT_LOCK_SPACE}, ${pointId})`.execute(tx)
}

/**
 * Locks the points that stills belong to, in order, for their first results. The transaction's end does not wait for the
 * disk: after a crash of the database such a result is there whole or not at all, and a still without one waits and is
 * looked at again (PostgreSQL manual, Asynchronous Commit).
 * @returns the points that are locked
 */
export async function lockForResults(
  tx: Transaction<Tables>,
  stillIds: readonly number[],
): Promise<ReadonlySet<number>> {
  const { rows } = await sql<{
    point_id: number
  }>`select point_id, pg_advisory_xact_lock(${POINT_LOCK_SPACE}, point_id), set_config('synchronous_commit', 'off', true)
    from (select distinct point_id from stills where id = any(${stillIds}::bigint[]) order by point_id) as of`.execute(
    tx,
  )
  return new Set(rows.map((row) => row.point_id))
}

/** Locks several points, always in the order of their ids, so that two writers never wait for each other. */
export async function lockPoints(tx: Transaction<Tables>, pointIds: readonly number[]): Promise<void> {
  const inOrder = [...new Set(pointIds)].sort((a, b) => a - b)
  await sql`select pg_advisory_xact_lock(${POINT_LOCK_SPACE}, id) from unnest(${inOrder}::int[]) as id`.execute(
    tx,
  )
}

/** Locks the points of stills that were put elsewhere while the locks of their old points were waited for. */
export async function lockMoved(
  tx: Transaction<Tables>,
  locked: ReadonlySet<number>,
  stills: ReadonlyArray<{ readonly point_id: number }>,
): Promise<void> {
  const elsewhere = stills.map((still) => still.point_id).filter((id) => !locked.has(id))
  if (elsewhere.length > 0) await lockPoints(tx, elsewhere)
}
