/** Figures of each camera's last days, for a screen that shows all of them. */
import { sql } from 'kysely'
import { type FilesThatCame, unreadableRise } from '../tally/unreadable-rise.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'

const DAY_MS = 86_400_000
export const RECENT_DAYS = 7
const PAST_DAYS = 56

export interface CameraFigures {
  readonly pointId: number
  readonly lastStillId: number | null
  readonly lastStillAt: Date | null
  readonly batteryPercent: number | null
  readonly batteryAt: Date | null
  readonly freeBytes: number | null
  readonly freeAt: Date | null
  readonly recent: FilesThatCame
  readonly past: FilesThatCame
  readonly inDoubt: number
  readonly doubt: string | null
  readonly doubtStillId: number | null
}

/** Those of the points at one of whose cameras unreadable files rose. */
export async function pointsOfRises(
  ledger: Ledger,
  pointIds: readonly number[],
  now: Instant,
): Promise<ReadonlySet<number>> {
  if (pointIds.length === 0) return new Set()
  const figures = await readCameraFigures(ledger, now, pointIds)
  return new Set(
    [...figures.values()].flatMap(({ pointId, recent, past }) =>
      unreadableRise(recent, past) ? [pointId] : [],
    ),
  )
}

/** Of every camera, or of those at some points, by its id. */
export async function readCameraFigures(
  ledger: Ledger,
  now: Instant,
  pointIds: readonly number[] | null = null,
): Promise<ReadonlyMap<number, CameraFigures>> {
  const recentFrom = toDate((now - RECENT_DAYS * DAY_MS) as Instant)
  const pastFrom = toDate((now - (RECENT_DAYS + PAST_DAYS) * DAY_MS) as Instant)
  const { rows } = await sql<{
    id: number
    point_id: number
    last_id: number | null
    last_at: Date | null
    battery: number | null
    battery_at: Date | null
    free_bytes: number | null
    free_at: Date | null
    recent: number
    recent_unreadable: number
    past: number
    past_unreadable: number
    in_doubt: number
    doubt: string | null
    doubt_id: number | null
  }>`
    select c.id, c.point_id, s.id as last_id, s.taken_at as last_at, b.battery_percent as battery, b.at as battery_at,
      f.free_bytes, f.at as free_at, n.*, d.in_doubt, d.doubt, d.doubt_id
    from cameras c
    left join lateral (select id, taken_at from stills where camera_id = c.id and clock_doubt is null
      and state <> 'unreadable' order by taken_at desc limit 1) s on true
    left join lateral (select battery_percent, at from heartbeats where camera_id = c.id
      and battery_percent is not null order by at desc limit 1) b on true
    left join lateral (select free_bytes, at from heartbeats where camera_id = c.id
      and free_bytes is not null order by at desc limit 1) f on true
    cross join lateral (select
      (count(*) filter (where taken_at > ${recentFrom}))::int as recent,
      (count(*) filter (where taken_at > ${recentFrom} and state = 'unreadable'))::int as recent_unreadable,
      (count(*) filter (where taken_at <= ${recentFrom}))::int as past,
      (count(*) filter (where taken_at <= ${recentFrom} and state = 'unreadable'))::int as past_unreadable
      from stills where camera_id = c.id and taken_at > ${pastFrom}) n
    cross join lateral (select count(*)::int as in_doubt, mode() within group (order by clock_doubt) as doubt,
      max(id) as doubt_id from stills
      where point_id = c.point_id and camera_id = c.id and clock_doubt is not null and received_at > ${recentFrom}) d
    where ${pointIds === null ? sql`true` : sql`c.point_id = any(${[...pointIds]}::int[])`}`.execute(ledger)
  return new Map(
    rows.map((row) => [
      row.id,
      {
        pointId: row.point_id,
        lastStillId: row.last_id,
        lastStillAt: row.last_at,
        batteryPercent: row.battery,
        batteryAt: row.battery_at,
        freeBytes: row.free_bytes,
        freeAt: row.free_at,
        recent: { unreadable: row.recent_unreadable, files: row.recent },
        past: { unreadable: row.past_unreadable, files: row.past },
        inDoubt: row.in_doubt,
        doubt: row.doubt,
        doubtStillId: row.doubt_id,
      },
    ]),
  )
}
