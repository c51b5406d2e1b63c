/** Keeps visits and nights: a new or changed still works out again only the visits and the nights that it touches. */
import { type RawBuilder, sql, type Transaction } from 'kysely'
import { nightOf, nightSpell } from '../tally/nights.ts'
import { gapFor, touchedSpell, type Visit, visitsOf } from '../tally/visits.ts'
import type { Instant, NightDate, Species, Zone } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Tables } from './tables.ts'

const MS_PER_MINUTE = 60_000

export interface PointSpecies {
  readonly pointId: number
  readonly species: Species
}

export interface VisitRules {
  readonly zone: Zone
  readonly gapMinutes: number
}

/** The gap that holds at a point: the station's, or one and a half intervals of its slowest camera on a schedule. */
export async function gapAtPoint(
  tx: Transaction<Tables>,
  pointId: number,
  stationGapMinutes: number,
): Promise<number> {
  const row = await tx
    .selectNoFrom(slowestScheduleAt(sql`${pointId}`).as('slowest'))
    .executeTakeFirstOrThrow()
  return gapFor(stationGapMinutes, row.slowest)
}

/** Minutes between photos of the slowest camera on a schedule at a point, for a question of its own or within one. */
export function slowestScheduleAt(point: RawBuilder<unknown>): RawBuilder<number | null> {
  return sql`(select max(schedule_minutes) from cameras where point_id = ${point})`
}

/** After a still's standing tally changed at `at`: replaces the visits it touches and the night rows behind them. */
export async function retouchVisits(
  tx: Transaction<Tables>,
  { pointId, species }: PointSpecies,
  { at, zone, gapMinutes }: VisitRules & { readonly at: Instant },
): Promise<void> {
  const gapMs = gapMinutes * MS_PER_MINUTE
  const near = await tx
    .selectFrom('visits')
    .select(['id', 'started_at', 'ended_at', 'night'])
    .where('point_id', '=', pointId)
    .where('species', '=', species)
    .where('started_at', '<=', toDate((at + gapMs) as Instant))
    // Visits of a species don't overlap, so of those that began earlier only the last can reach here; without this
    // bound every visit of the years before would be looked at.
    .where('started_at', '>=', lastBegunBefore({ pointId, species }, toDate((at - gapMs) as Instant)))
    .where('ended_at', '>=', toDate((at - gapMs) as Instant))
    .orderBy('started_at')
    .execute()
  const hull = touchedSpell(
    near.map((visit) => ({ startedAt: toInstant(visit.started_at), endedAt: toInstant(visit.ended_at) })),
    at,
    gapMinutes,
  )
  const sightings = await tx
    .selectFrom('sightings')
    .select(['still_id', 'taken_at', 'head', 'score'])
    .where('point_id', '=', pointId)
    .where('species', '=', species)
    .where('taken_at', '>=', toDate(hull.from))
    .where('taken_at', '<=', toDate(hull.to))
    .execute()
  const visits = visitsOf(
    sightings.map((row) => ({
      stillId: row.still_id,
      at: toInstant(row.taken_at),
      head: row.head,
      score: row.score,
    })),
    gapMinutes,
  )
  await replaceVisits(
    tx,
    near,
    visits.map((visit) => visitRow({ pointId, species }, visit, zone)),
  )
  const nights = new Set<NightDate>(near.map((visit) => visit.night))
  for (const visit of visits) nights.add(nightOf(visit.startedAt, zone))
  nights.add(nightOf(at, zone))
  for (const night of nights) await recountNight(tx, { pointId, species }, { night, zone })
}

function lastBegunBefore({ pointId, species }: PointSpecies, moment: Date) {
  return sql<Date>`coalesce((select max(started_at) from visits
    where point_id = ${pointId} and species = ${species} and started_at <= ${moment}), '-infinity')`
}

type VisitRow = ReturnType<typeof visitRow>

function visitRow({ pointId, species }: PointSpecies, visit: Visit, zone: Zone) {
  return {
    point_id: pointId,
    species,
    night: nightOf(visit.startedAt, zone),
    started_at: toDate(visit.startedAt),
    ended_at: toDate(visit.endedAt),
    peak: visit.peak,
    photos: visit.photos,
    best_still_id: visit.bestStillId,
  }
}

/** Keeps a visit's id while it lives, so that a link to it goes on working when a still joins it. */
async function replaceVisits(
  tx: Transaction<Tables>,
  before: ReadonlyArray<{ readonly id: number; readonly started_at: Date; readonly ended_at: Date }>,
  after: readonly VisitRow[],
): Promise<void> {
  const unused = [...before]
  const kept: Array<{ id: number; row: VisitRow }> = []
  const added: VisitRow[] = []
  for (const row of after) {
    const index = unused.findIndex((old) => old.started_at <= row.ended_at && old.ended_at >= row.started_at)
    const [old] = index < 0 ? [] : unused.splice(index, 1)
    if (old === undefined) added.push(row)
    else kept.push({ id: old.id, row })
  }
  if (unused.length > 0) {
    await tx
      .deleteFrom('visits')
      .where(
        'id',
        'in',
        unused.map((visit) => visit.id),
      )
      .execute()
  }
  for (const { id, row } of kept) await tx.updateTable('visits').set(row).where('id', '=', id).execute()
  if (added.length > 0) await tx.insertInto('visits').values(added).execute()
}

/** One species' row of one night at a point, from its sightings and visits; no row where it was not seen. */
async function recountNight(
  tx: Transaction<Tables>,
  { pointId, species }: PointSpecies,
  { night, zone }: { readonly night: NightDate; readonly zone: Zone },
): Promise<void> {
  const spell = nightSpell(night, zone)
  await sql`
    with counted as (
      select v.visits, s.least, v.sum_of_peaks, s.photos from (
        select coalesce(max(head), 0) as least, count(*) as photos from sightings
        where point_id = ${pointId} and species = ${species}
          and taken_at >= ${toDate(spell.from)} and taken_at < ${toDate(spell.to)}
      ) s, (
        select count(*) as visits, coalesce(sum(peak), 0) as sum_of_peaks from visits
        where point_id = ${pointId} and species = ${species} and night = ${night}
      ) v
      where s.photos > 0 or v.visits > 0
    ), gone as (
      delete from nights where point_id = ${pointId} and night = ${night} and species = ${species}
        and not exists (select from counted)
    )
    insert into nights (point_id, night, species, visits, least, sum_of_peaks, photos)
    select ${pointId}, ${night}, ${species}, visits, least, sum_of_peaks, photos from counted
    on conflict (point_id, night, species) do update set visits = excluded.visits, least = excluded.least,
      sum_of_peaks = excluded.sum_of_peaks, photos = excluded.photos`.execute(tx)
}
