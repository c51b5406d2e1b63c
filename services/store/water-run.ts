/** Reads what the water run shows: a handful of statements for all points together, each one by index. */
import { sql } from 'kysely'
import type { Instant, NightDate, Species } from '../words.ts'
import { camerasOfRises } from './camera-figures.ts'
import type { TroubleKind } from './clock-tables.ts'
import { heardUpTo, TRUSTED_AHEAD_MS } from './last-contact.ts'
import type { Ledger } from './open.ts'
import type { PointStateRow } from './point-states.ts'
import type { PointRow } from './points.ts'

const DAYS_OF_TROUBLE = 7

/** The visits of one feral species to one point in one night. */
export interface FeralNight {
  readonly species: Species
  readonly visits: number
  readonly peak: number
  readonly first_at: Date
  readonly last_at: Date
  /** The best photo of the visit with the largest peak, the first of several. */
  readonly best_still_id: number
}

export interface WaterRunFacts {
  readonly point: PointRow
  readonly cameras: ReadonlyArray<{
    readonly lastContactAt: Date | null
    readonly expectedSilenceHours: number
    /** Something keeps it from seeing, though it speaks. */
    readonly cannotSee: boolean
  }>
  readonly lastStill: { readonly id: number; readonly takenAt: Date } | null
  readonly lastCattle: { readonly stillId: number; readonly at: Date } | null
  /** The feral species that came in the night, in no order. */
  readonly feral: readonly FeralNight[]
  readonly watchedSeconds: number
  readonly toCheck: number
  /** The latest state of each kind, by tap and by reading: a reading must not hide a tap. */
  readonly states: readonly PointStateRow[]
  /** Files of the last days that could not be read: those of an old card say nothing of a camera now. */
  readonly unreadable: number
  /** Unreadable files rose at one of its cameras. */
  readonly unreadableRise: boolean
  readonly clockInDoubt: number
  /** What keeps cameras that stand here from seeing, though they speak. */
  readonly cannotSee: readonly TroubleKind[]
}

/** The facts of every point (or of one) for one night, in run order. */
export async function readWaterRun(
  ledger: Ledger,
  { night, now, pointId }: { readonly night: NightDate; readonly now: Date; readonly pointId?: number },
): Promise<WaterRunFacts[]> {
  const only = pointId === undefined ? sql`true` : sql`p.id = ${pointId}`
  const troubleSince = new Date(now.getTime() - DAYS_OF_TROUBLE * 86_400_000)
  // What a clock that ran ahead wrote down is not yet true: no photo, contact or reading of tomorrow hides today's.
  const limit = new Date(now.getTime() + TRUSTED_AHEAD_MS)
  const [points, latest, cameras, feral, effort, toCheck, states, trouble, blind] = await Promise.all([
    sql<PointRow>`select p.* from points p where ${only} order by p.run_order, p.id`.execute(ledger),
    sql<{
      point_id: number
      still_id: number | null
      still_at: Date | null
      cattle_still_id: number | null
      cattle_at: Date | null
    }>`
      select p.id as point_id, s.id as still_id, s.taken_at as still_at, c.still_id as cattle_still_id, c.taken_at as cattle_at
      from points p
      left join lateral (
        select id, taken_at from stills
        where point_id = p.id and clock_doubt is null and state <> 'unreadable' and taken_at <= ${limit}
        order by taken_at desc, id desc limit 1) s on true
      left join lateral (
        select still_id, taken_at from sightings
        where point_id = p.id and species = 'cattle' and taken_at <= ${limit} order by taken_at desc limit 1) c on true
      where ${only}`.execute(ledger),
    sql<{ id: number; point_id: number; last_contact_at: Date | null; expected_silence_hours: number }>`
      select id, point_id, last_contact_at, expected_silence_hours from cameras where is_up`
      .execute(ledger)
      .then(({ rows }) => heardUpTo(ledger, rows, now.getTime() as Instant)),
    sql<FeralNight & { readonly point_id: number }>`
      select v.point_id, v.species, count(*)::int as visits, max(v.peak) as peak, min(v.started_at) as first_at,
        max(v.ended_at) as last_at, (array_agg(v.best_still_id order by v.peak desc, v.started_at))[1] as best_still_id
      from visits v join points p on p.id = v.point_id
      join species_settings f on f.species = v.species and f.role = 'feral'
      where v.night = ${night} and ${only} group by v.point_id, v.species`.execute(ledger),
    sql<{ point_id: number; watched_seconds: number }>`
      select e.point_id, e.watched_seconds from effort e join points p on p.id = e.point_id
      where e.night = ${night} and ${only}`.execute(ledger),
    sql<{ point_id: number; count: number }>`
      select s.point_id, count(*)::int as count from stills s join points p on p.id = s.point_id
      where s.flagged and not s.checked and s.night = ${night} and s.clock_doubt is null and ${only}
      group by s.point_id`.execute(ledger),
    // From one kind and source to the next in the index: asked for each there may be, most of a point's are not there.
    sql<PointStateRow>`
      select t.* from points p cross join lateral (
        with recursive latest as (
          (select * from point_states where point_id = p.id and at <= ${limit} order by kind, source, at desc, id desc limit 1)
          union all
          select n.* from latest cross join lateral (
            select * from point_states where point_id = p.id and at <= ${limit} and (kind, source) > (latest.kind, latest.source)
            order by kind, source, at desc, id desc limit 1) n
        ) select * from latest
      ) t
      where ${only}`.execute(ledger),
    sql<{ point_id: number; unreadable: number; in_doubt: number }>`
      select p.id as point_id,
        (select count(*)::int from stills where point_id = p.id and state = 'unreadable' and received_at >= ${troubleSince}
          and taken_at >= ${troubleSince}) as unreadable,
        (select count(*)::int from stills where point_id = p.id and clock_doubt is not null and received_at >= ${troubleSince}) as in_doubt
      from points p where ${only}`.execute(ledger),
    sql<{
      camera_id: number
      point_id: number
      kind: TroubleKind
    }>`select p.id as camera_id, p.point_id, t.kind
      from camera_troubles t join cameras p on p.id = t.camera_id
      where t.to_at is null and not t.is_fine and p.is_up`.execute(ledger),
  ])
  const rises = await camerasOfRises(
    ledger,
    trouble.rows.filter((row) => row.unreadable > 0).map((row) => row.point_id),
    now.getTime() as Instant,
  )
  const risen = new Set(rises.values())
  return points.rows.map((point) => {
    const last = latest.rows.find((row) => row.point_id === point.id)
    const bad = trouble.rows.find((row) => row.point_id === point.id)
    return {
      point,
      cameras: cameras
        .filter((row) => row.point_id === point.id)
        .map((row) => ({
          lastContactAt: row.last_contact_at,
          expectedSilenceHours: row.expected_silence_hours,
          cannotSee: blind.rows.some((one) => one.camera_id === row.id),
        })),
      lastStill: last?.still_id && last.still_at ? { id: last.still_id, takenAt: last.still_at } : null,
      lastCattle:
        last?.cattle_still_id && last.cattle_at
          ? { stillId: last.cattle_still_id, at: last.cattle_at }
          : null,
      feral: feral.rows.filter((row) => row.point_id === point.id),
      watchedSeconds: effort.rows.find((row) => row.point_id === point.id)?.watched_seconds ?? 0,
      toCheck: toCheck.rows.find((row) => row.point_id === point.id)?.count ?? 0,
      states: states.rows.filter((row) => row.point_id === point.id),
      unreadable: bad?.unreadable ?? 0,
      unreadableRise: risen.has(point.id),
      clockInDoubt: bad?.in_doubt ?? 0,
      cannotSee: [...new Set(blind.rows.filter((row) => row.point_id === point.id).map((row) => row.kind))],
    }
  })
}
