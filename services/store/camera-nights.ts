/** Nights that cameras watched for a good part, and the most seen at once in them: what a notebook is held against. */
import { sql } from 'kysely'
import type { NightDate, Species } from '../words.ts'
import type { Ledger } from './open.ts'

export interface CameraNights {
  readonly pointId: number
  readonly nights: number
  /** Of each species seen in them: the sum of the nights' least counts, and the largest. */
  readonly seen: ReadonlyMap<Species, { readonly head: number; readonly most: number }>
}

/** `lengths`: each night's seconds; a night counts where at least `part` of it was watched. */
export async function readCameraNights(
  ledger: Ledger,
  lengths: ReadonlyArray<{ readonly night: NightDate; readonly seconds: number }>,
  part: number,
): Promise<ReadonlyMap<number, CameraNights>> {
  const watched = sql`effort e join unnest(${lengths.map(({ night }) => night)}::date[],
    ${lengths.map(({ seconds }) => seconds)}::float8[]) as n (night, seconds)
    on n.night = e.night and e.watched_seconds >= n.seconds * ${part}::float8`
  const [nights, seen] = await Promise.all([
    sql<{ pointId: number; nights: number }>`
      select e.point_id as "pointId", count(*)::int as nights from ${watched} group by 1`.execute(ledger),
    sql<{ pointId: number; species: Species; head: number; most: number }>`
      select t.point_id as "pointId", t.species, sum(t.least)::int as head, max(t.least)::int as most
      from ${watched} join nights t on t.point_id = e.point_id and t.night = e.night group by 1, 2`.execute(
      ledger,
    ),
  ])
  return new Map(
    nights.rows.map(({ pointId, nights: count }) => {
      const of = seen.rows.filter((row) => row.pointId === pointId)
      const species = new Map(of.map(({ species: name, head, most }) => [name, { head, most }] as const))
      return [pointId, { pointId, nights: count, seen: species }]
    }),
  )
}
