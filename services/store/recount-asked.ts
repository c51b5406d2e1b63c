/** A recount that is due: written down with the change that calls for it, so that a kill in between loses neither. */
import { sql, type Transaction } from 'kysely'
import type { Settings } from './settings.ts'
import type { Tables } from './tables.ts'

/** Whether counts made under one are no longer right under the other. */
export function changesCounts(before: Settings, after: Settings): boolean {
  const counted = ({ zone, visitGapMinutes, roles, thresholds }: Settings) =>
    JSON.stringify({ zone, visitGapMinutes, roles, thresholds })
  return counted(before) !== counted(after)
}

/**
 * Every point is to be counted again from its newest still on; what an earlier change had left is in that. One that a
 * person paused stays paused.
 */
export async function askForRecount(tx: Transaction<Tables>): Promise<void> {
  const total = sql`(select coalesce(sum(stills), 0) from cameras)`
  await sql`insert into recount (id, generation, state, total, done) values (1, 1, 'running', ${total}, 0)
    on conflict (id) do update set generation = recount.generation + 1, total = excluded.total, done = 0,
      last_error = null, state = case recount.state when 'paused' then 'paused' else 'running' end`.execute(
    tx,
  )
  await sql`insert into recount_points (point_id) select id from points
    on conflict (point_id) do update set before_at = null, before_id = null`.execute(tx)
}
