/** A camera's stills are to be put in their places: written down with the change that calls for it, so that a kill loses neither. */
import { sql } from 'kysely'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface PlacingAsked {
  readonly cameraId: number
  /** Of the times that stills came with, both included; null: from the first, or to the last. */
  readonly fromSaid: Instant | null
  readonly toSaid: Instant | null
}

/** Asks for a walk; one that is under way begins anew, over what was left to it as well. */
export async function askForPlacing(
  tx: LedgerOrTransaction,
  { cameraId, fromSaid, toSaid }: PlacingAsked,
): Promise<void> {
  const from = fromSaid && toDate(fromSaid)
  const to = toSaid && toDate(toSaid)
  // After id 0 at that time: every still of it is meant. Least and greatest pass over nulls, which stand for no end here.
  await sql`insert into placing_walks (camera_id, total, done, after_said, after_id, to_said)
    values (${cameraId}, 0, 0, ${from}::timestamptz, ${from === null ? null : 0}::bigint, ${to}::timestamptz)
    on conflict (camera_id) do update set done = 0, last_error = null,
      after_said = case when placing_walks.after_said is null or excluded.after_said is null then null
        else least(placing_walks.after_said, excluded.after_said) end,
      after_id = case when placing_walks.after_said is null or excluded.after_said is null then null else 0 end,
      to_said = case when placing_walks.to_said is null or excluded.to_said is null then null
        else greatest(placing_walks.to_said, excluded.to_said) end`.execute(tx)
  await sql`update placing_walks w set total = (select count(*) from stills s where s.camera_id = w.camera_id
      and (w.after_said is null or coalesce(s.said_at, s.taken_at) >= w.after_said)
      and (w.to_said is null or coalesce(s.said_at, s.taken_at) <= w.to_said))
    where camera_id = ${cameraId}`.execute(tx)
}
