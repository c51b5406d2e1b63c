/** Reads what a program's target list is worked out from: what came to which point, what was watched, how it is reached. */
import { sql } from 'kysely'
import type { Instant, NightDate, Species } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import { readWatchedNights } from './nights-of-points.ts'
import type { Ledger } from './open.ts'
import { listPoints, type PointRow } from './points.ts'
import { mayLeave } from './what-may-leave.ts'

export interface TargetFacts {
  /** In run order. */
  readonly points: readonly PointRow[]
  /** Of the species, in order of time. */
  readonly visits: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly startedAt: Instant
    readonly peak: number
  }>
  readonly watched: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly seconds: number
  }>
  readonly lastSeen: ReadonlyMap<number, Instant>
}

export interface FactsAsked {
  readonly species: Species
  /** Both included. */
  readonly from: NightDate
  readonly to: NightDate
  /** What came later is not known yet. */
  readonly now: Instant
}

/** Four statements for all points together. */
export async function readTargetFacts(
  ledger: Ledger,
  { species, from, to, now }: FactsAsked,
): Promise<TargetFacts> {
  const [points, visits, watched, lastSeen] = await Promise.all([
    listPoints(ledger),
    ledger
      .selectFrom('visits')
      .select(['point_id', 'night', 'started_at', 'peak'])
      .where('species', '=', species)
      .where('night', '>=', from)
      .where('night', '<=', to)
      .where('started_at', '<=', toDate(now))
      .orderBy('started_at')
      .execute(),
    readWatchedNights(ledger, { from, to }),
    sql<{ point_id: number; at: Date }>`
      select p.id as point_id, s.taken_at as at from points p cross join lateral (
        select taken_at from sightings where point_id = p.id and species = ${species} and taken_at <= ${toDate(now)}
        order by taken_at desc limit 1) s`.execute(ledger),
  ])
  return {
    points,
    visits: visits.map(({ point_id, night, started_at, peak }) => ({
      pointId: point_id,
      night,
      startedAt: toInstant(started_at),
      peak,
    })),
    watched: watched.map(({ point_id, night, watched_seconds }) => ({
      pointId: point_id,
      night,
      seconds: watched_seconds,
    })),
    lastSeen: new Map(lastSeen.rows.map(({ point_id, at }) => [point_id, toInstant(at)])),
  }
}

export interface BesideTargets {
  /** What came to a point in those nights, the species itself among them. */
  readonly came: ReadonlyArray<{
    readonly pointId: number
    readonly species: Species
    readonly nights: number
    /** The most in one photo. */
    readonly largest: number
    /** The latest few of those nights, the latest first. */
    readonly lastNights: readonly NightDate[]
  }>
  /** Nights of those that were watched at all. */
  readonly watched: ReadonlyMap<number, number>
  /** The latest of the species that may leave the station, and is still kept. */
  readonly photos: ReadonlyMap<number, { readonly stillId: number; readonly takenAt: Instant }>
  /** When somebody last said that it rained there. */
  readonly rain: ReadonlyMap<number, Instant>
  /** Photos of those nights that nobody has read yet. */
  readonly waiting: number
}

const LAST_NIGHTS = 4

/** What stands beside the expectations of these points: five statements for all of them. */
export async function readBesideTargets(
  ledger: Ledger,
  { species, from, to, now, pointIds }: FactsAsked & { readonly pointIds: readonly number[] },
): Promise<BesideTargets> {
  const [came, watched, photos, rain, waiting] = await Promise.all([
    sql<BesideTargets['came'][number]>`
      select point_id as "pointId", species, count(*)::int as nights, max(least) as largest,
        to_json((array_agg(night order by night desc))[1:${sql.lit(LAST_NIGHTS)}]) as "lastNights" from nights
      where night between ${from} and ${to} and visits > 0 and point_id = any(${pointIds}::int[])
      group by 1, 2 order by 1, 3 desc, 2`.execute(ledger),
    sql<{ point_id: number; nights: number }>`
      select point_id, count(*)::int as nights from effort
      where night between ${from} and ${to} and watched_seconds > 0 group by 1`.execute(ledger),
    sql<{ point_id: number; id: number; taken_at: Date }>`
      select p.id as point_id, s.id, s.taken_at from unnest(${pointIds}::int[]) as p (id) cross join lateral (
        select stills.id, stills.taken_at from sightings g join stills on stills.id = g.still_id
        where g.point_id = p.id and g.species = ${species} and g.taken_at <= ${toDate(now)}
          and stills.state = 'done' and stills.kept <> 'none' and ${mayLeave()}
        order by g.taken_at desc, g.still_id desc limit 1) s`.execute(ledger),
    sql<{ point_id: number; at: Date }>`
      select p.id as point_id, s.at from unnest(${pointIds}::int[]) as p (id) cross join lateral (
        select at from point_states where point_id = p.id and kind = 'rain' and source = 'tap' and at <= ${toDate(now)}
        order by at desc limit 1) s`.execute(ledger),
    sql<{ photos: number }>`
      select count(*)::int as photos from stills where state = 'received' and night between ${from} and ${to}`.execute(
      ledger,
    ),
  ])
  return {
    came: came.rows,
    watched: new Map(watched.rows.map((row) => [row.point_id, row.nights])),
    photos: new Map(
      photos.rows.map((row) => [row.point_id, { stillId: row.id, takenAt: toInstant(row.taken_at) }]),
    ),
    rain: new Map(rain.rows.map((row) => [row.point_id, toInstant(row.at)])),
    waiting: waiting.rows[0]!.photos,
  }
}
