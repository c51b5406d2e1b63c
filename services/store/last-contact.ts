/**
 * What was last heard of cameras up to now. `cameras.last_contact_at` is the latest contact ever written down: where the
 * clock of the service ran ahead for a while it lies in the future, and would hide for days that a camera is down.
 */
import { sql } from 'kysely'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

/** A camera's clock may be that much ahead and still be trusted (intake/clock-doubt.ts). */
export const TRUSTED_AHEAD_MS = 15 * 60_000

interface Heard {
  readonly id: number
  readonly last_contact_at: Date | null
}

/** The same cameras, each with its last contact up to `now`; asks the ledger only about those whose last lies later. */
export async function heardUpTo<Row extends Heard>(
  ledger: LedgerOrTransaction,
  cameras: readonly Row[],
  now: Instant,
): Promise<Row[]> {
  const limit = toDate((now + TRUSTED_AHEAD_MS) as Instant)
  const isLater = ({ last_contact_at: last }: Row) => last !== null && last > limit
  const later = cameras.filter(isLater).map(({ id }) => id)
  if (later.length === 0) return [...cameras]
  const { rows } = await sql<Heard>`
    select c.id, greatest(
      (select max(taken_at) from stills where camera_id = c.id and clock_doubt is null and taken_at <= ${limit}),
      (select max(at) from heartbeats where camera_id = c.id and at <= ${limit})) as last_contact_at
    from unnest(${later}::int[]) as c (id)`.execute(ledger)
  const upToNow = new Map(rows.map((row) => [row.id, row.last_contact_at]))
  return cameras.map((row) => (isLater(row) ? { ...row, last_contact_at: upToNow.get(row.id) ?? null } : row))
}
