/** The night's other stills: animals stand on them, and nothing asks for a look; or somebody has spoken of them. */
import { sql } from 'kysely'
import { previousNight } from '../tally/nights.ts'
import type { NightDate } from '../words.ts'
import type { FlaggedStill } from './flagged-stills.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

/** The latest that many of them. */
export async function listPlain(
  ledger: Ledger,
  { night, limit }: { readonly night: NightDate; readonly limit: number },
): Promise<FlaggedStill[]> {
  // A visit belongs to the night in which it began, so that of the night before may reach into this one. What a person
  // said to be empty is in no visit any more, and is found by its check. Photos are looked up one by one: the planner takes
  // those of a night for many more than they are, and would read those of all nights.
  const { rows } = await sql<{ id: number; point_id: number; taken_at: Date; checked: boolean }>`
    with seen as (
      select g.still_id as id from visits v
      join sightings g on g.point_id = v.point_id and g.species = v.species
        and g.taken_at between v.started_at and v.ended_at
      where v.night in (${night}, ${previousNight(night)})
      union
      select id from stills where night = ${night} and checked and not flagged
    )
    select s.id, s.point_id, s.taken_at, s.checked from seen
    cross join lateral (select * from stills where stills.id = seen.id limit 1) s
    where s.night = ${night} and not s.flagged and s.state = 'done' and s.clock_doubt is null
    order by s.taken_at desc, s.id desc limit ${limit}`.execute(ledger)
  return rows.map((row) => ({
    id: row.id,
    pointId: row.point_id,
    at: toInstant(row.taken_at),
    flagged: false,
    feral: false,
    checked: row.checked,
  }))
}
