import { sql } from 'kysely'
import type { Ledger } from './open.ts'

/** How far the looking is. Counted from the cameras' own counters, so it costs the same at any number of stills. */
export async function readProgress(
  ledger: Ledger,
): Promise<{ readonly waiting: number; readonly done: number; readonly unreadable: number }> {
  const { rows } = await sql<{ waiting: number; stills: number; unreadable: number }>`
    select (select count(*)::int from stills where state = 'received') as waiting,
      coalesce(sum(stills), 0)::int as stills, coalesce(sum(unreadable), 0)::int as unreadable
    from cameras`.execute(ledger)
  const { waiting, stills, unreadable } = rows[0]!
  return { waiting, done: Math.max(0, stills - waiting - unreadable), unreadable }
}
