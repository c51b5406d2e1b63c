/** Reads the visits and sightings round what changed, of any points and species at once. */
import { sql, type Transaction } from 'kysely'
import type { ClosedSpell, Sighting } from '../tally/visits.ts'
import type { Instant, NightDate, Species } from '../words.ts'
import { toInstant, toIso } from './instants.ts'
import type { Tables } from './tables.ts'

const MS_PER_MINUTE = 60_000

export interface PointSpecies {
  readonly pointId: number
  readonly species: Species
}

/** Where a still's standing tally of a species changed, or came. */
export interface Touched extends PointSpecies {
  readonly at: Instant
  /** The gap that holds at the point. */
  readonly gapMinutes: number
}

export interface NearVisit extends PointSpecies {
  readonly id: number
  readonly startedAt: Instant
  readonly endedAt: Instant
  readonly night: NightDate
}

/** The visits within a gap of what is touched. */
export async function visitsNear(tx: Transaction<Tables>, touched: readonly Touched[]): Promise<NearVisit[]> {
  const low = touched.map(({ at, gapMinutes }) => toIso(at - gapMinutes * MS_PER_MINUTE))
  const high = touched.map(({ at, gapMinutes }) => toIso(at + gapMinutes * MS_PER_MINUTE))
  // Visits of a species don't overlap, so of those that began earlier only the last can reach here; without this bound
  // every visit of the years before would be looked at.
  const { rows } = await sql<{
    id: number
    point_id: number
    species: Species
    started_at: Date
    ended_at: Date
    night: NightDate
  }>`
    select distinct on (v.point_id, v.species, v.started_at) v.*
    from unnest(${touched.map(({ pointId }) => pointId)}::int[], ${touched.map(({ species }) => species)}::text[],
      ${low}::timestamptz[], ${high}::timestamptz[]) as t (point_id, species, low, high)
    cross join lateral (
      select id, point_id, species, started_at, ended_at, night from visits
      where point_id = t.point_id and species = t.species and started_at <= t.high and ended_at >= t.low
        and started_at >= coalesce((select max(started_at) from visits
          where point_id = t.point_id and species = t.species and started_at <= t.low), '-infinity')
    ) v
    order by v.point_id, v.species, v.started_at`.execute(tx)
  return rows.map((row) => ({
    id: row.id,
    pointId: row.point_id,
    species: row.species,
    startedAt: toInstant(row.started_at),
    endedAt: toInstant(row.ended_at),
    night: row.night,
  }))
}

/** What was seen in each stretch, in their order. */
export async function sightingsWithin(
  tx: Transaction<Tables>,
  spells: ReadonlyArray<PointSpecies & ClosedSpell>,
): Promise<Sighting[][]> {
  const { rows } = await sql<{
    spell: number
    still_id: number
    taken_at: Date
    head: number
    score: number
  }>`
    select t.spell::int, s.* from unnest(${spells.map(({ pointId }) => pointId)}::int[],
      ${spells.map(({ species }) => species)}::text[], ${spells.map(({ from }) => toIso(from))}::timestamptz[],
      ${spells.map(({ to }) => toIso(to))}::timestamptz[]) with ordinality as t (point_id, species, low, high, spell)
    cross join lateral (
      select still_id, taken_at, head, score from sightings
      where point_id = t.point_id and species = t.species and taken_at >= t.low and taken_at <= t.high
    ) s`.execute(tx)
  const within: Sighting[][] = spells.map(() => [])
  for (const row of rows) {
    within[row.spell - 1]!.push({
      stillId: row.still_id,
      at: toInstant(row.taken_at),
      head: row.head,
      score: row.score,
    })
  }
  return within
}
