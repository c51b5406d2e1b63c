/** Figures of each camera's last days, for a screen that shows all of them. */
import { sql } from 'kysely'
import { type FilesThatCame, LEAST_UNREADABLE, unreadableRise } from '../tally/unreadable-rise.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'

const DAY_MS = 86_400_000
export const RECENT_DAYS = 7
const PAST_DAYS = 56

export interface CameraFigures {
  readonly lastStillId: number | null
  readonly lastStillAt: Date | null
  readonly batteryPercent: number | null
  readonly batteryAt: Date | null
  readonly freeBytes: number | null
  readonly freeAt: Date | null
  readonly recent: FilesThatCame
  readonly inDoubt: number
  readonly doubt: string | null
  readonly doubtStillId: number | null
}

/** Cameras whose unreadable files rose, of those with such files at these points: where each stands now, by its id. */
export async function camerasOfRises(
  ledger: Ledger,
  pointIds: readonly number[],
  now: Instant,
): Promise<ReadonlyMap<number, number>> {
  const { recentFrom, pastFrom } = spellsOf(now)
  // Found by the index of unreadable files: two months of a camera's files are counted only where it had enough of them.
  const { rows: suspects } = await sql<{ camera_id: number; point_id: number }>`
    select s.camera_id, c.point_id from stills s join cameras c on c.id = s.camera_id
    where s.state = 'unreadable' and s.point_id = any(${[...pointIds]}::int[]) and s.received_at > ${recentFrom}
      and s.taken_at > ${recentFrom}
    group by s.camera_id, c.point_id having count(*) >= ${LEAST_UNREADABLE}`.execute(ledger)
  const { rows } = await sql<FileCounts & { camera_id: number }>`
    select c.id as camera_id, n.* from unnest(${suspects.map((row) => row.camera_id)}::int[]) as c (id)
    cross join lateral (select
      (count(*) filter (where taken_at > ${recentFrom}))::int as recent,
      (count(*) filter (where taken_at > ${recentFrom} and state = 'unreadable'))::int as recent_unreadable,
      (count(*) filter (where taken_at <= ${recentFrom}))::int as past,
      (count(*) filter (where taken_at <= ${recentFrom} and state = 'unreadable'))::int as past_unreadable
      from stills where camera_id = c.id and taken_at > ${pastFrom}) n`.execute(ledger)
  const risen = new Set(
    rows.filter((row) => unreadableRise(recentOf(row), pastOf(row))).map((row) => row.camera_id),
  )
  return new Map(
    suspects.filter((row) => risen.has(row.camera_id)).map((row) => [row.camera_id, row.point_id]),
  )
}

interface RecentCounts {
  readonly recent: number
  readonly recent_unreadable: number
}

interface FileCounts extends RecentCounts {
  readonly past: number
  readonly past_unreadable: number
}

const recentOf = (row: RecentCounts): FilesThatCame => ({
  unreadable: row.recent_unreadable,
  files: row.recent,
})
const pastOf = (row: FileCounts): FilesThatCame => ({ unreadable: row.past_unreadable, files: row.past })

function spellsOf(now: Instant) {
  return {
    recentFrom: toDate((now - RECENT_DAYS * DAY_MS) as Instant),
    pastFrom: toDate((now - (RECENT_DAYS + PAST_DAYS) * DAY_MS) as Instant),
  }
}

/** Of every camera, by its id. */
export async function readCameraFigures(
  ledger: Ledger,
  now: Instant,
): Promise<ReadonlyMap<number, CameraFigures>> {
  const { recentFrom } = spellsOf(now)
  const { rows } = await sql<
    RecentCounts & {
      id: number
      last_id: number | null
      last_at: Date | null
      battery: number | null
      battery_at: Date | null
      free_bytes: number | null
      free_at: Date | null
      in_doubt: number
      doubt: string | null
      doubt_id: number | null
    }
  >`
    select c.id, s.id as last_id, s.taken_at as last_at, b.battery_percent as battery, b.at as battery_at,
      f.free_bytes, f.at as free_at, n.*, d.in_doubt, d.doubt, d.doubt_id
    from cameras c
    left join lateral (select id, taken_at from stills where camera_id = c.id and clock_doubt is null
      and state <> 'unreadable' order by taken_at desc limit 1) s on true
    left join lateral (select battery_percent, at from heartbeats where camera_id = c.id
      and battery_percent is not null order by at desc limit 1) b on true
    left join lateral (select free_bytes, at from heartbeats where camera_id = c.id
      and free_bytes is not null order by at desc limit 1) f on true
    cross join lateral (select count(*)::int as recent, (count(*) filter (where state = 'unreadable'))::int as recent_unreadable
      from stills where camera_id = c.id and taken_at > ${recentFrom}) n
    cross join lateral (select count(*)::int as in_doubt, mode() within group (order by clock_doubt) as doubt,
      max(id) as doubt_id from stills
      where point_id = c.point_id and camera_id = c.id and clock_doubt is not null and received_at > ${recentFrom}) d`.execute(
    ledger,
  )
  return new Map(
    rows.map((row) => [
      row.id,
      {
        lastStillId: row.last_id,
        lastStillAt: row.last_at,
        batteryPercent: row.battery,
        batteryAt: row.battery_at,
        freeBytes: row.free_bytes,
        freeAt: row.free_at,
        recent: recentOf(row),
        inDoubt: row.in_doubt,
        doubt: row.doubt,
        doubtStillId: row.doubt_id,
      },
    ]),
  )
}
