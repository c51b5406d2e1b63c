/** Which of a camera's photos a shift is for, and what it would do to them, before it is made. */
import { type Selectable, sql } from 'kysely'
import { CLOCK_DRIFT_TOLERANCE_MINUTES } from '../tally/placing.ts'
import type { Instant } from '../words.ts'
import { readTimesOf } from './camera-times.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import type { StillsTable } from './tables.ts'

/**
 * `photo`: those of its very second. `in doubt`: with it all that are in doubt without a break. `from here`, `up to here`: in
 * the order of the camera's clock. `at this point`: all that the camera took where this one was taken.
 */
export const SHIFT_RUNS = ['photo', 'in doubt', 'from here', 'up to here', 'at this point', 'all'] as const
export type ShiftRun = (typeof SHIFT_RUNS)[number]

export interface RunOfStills {
  readonly cameraId: number
  /** By the time they came with, both included. */
  readonly fromSaid: Instant
  readonly toSaid: Instant
  readonly lastStillId: number
  readonly photos: number
}

type Still = Pick<
  Selectable<StillsTable>,
  'id' | 'camera_id' | 'point_id' | 'taken_at' | 'said_at' | 'clock_doubt'
>

const SAID = sql<Date>`coalesce(said_at, taken_at)`

/** The run round a photo. */
export async function runOfStills(ledger: Ledger, still: Still, run: ShiftRun): Promise<RunOfStills> {
  const here = still.said_at ?? still.taken_at
  const ofCamera = sql`camera_id = ${still.camera_id}`
  const within = {
    photo: sql`${SAID} = ${here}`,
    'in doubt': sql`${SAID} > coalesce((select max(${SAID}) from stills where ${ofCamera} and clock_doubt is null
        and ${SAID} < ${here}), '-infinity') and ${SAID} < coalesce((select min(${SAID}) from stills
        where ${ofCamera} and clock_doubt is null and ${SAID} > ${here}), 'infinity') and clock_doubt is not null`,
    'from here': sql`${SAID} >= ${here}`,
    'up to here': sql`${SAID} <= ${here}`,
    'at this point': sql`point_id = ${still.point_id}`,
    all: sql`true`,
  }[run]
  const { rows } = await sql<{ from_said: Date | null; to_said: Date | null; last: number | null }>`
    select min(${SAID}) as from_said, max(${SAID}) as to_said,
      (select max(id) from stills where ${ofCamera}) as last
    from stills where ${ofCamera} and ${within}`.execute(ledger)
  const { from_said: from, to_said: to, last } = rows[0]!
  const range = {
    cameraId: still.camera_id,
    // A photo that is in no doubt is no run of doubts: it stands for itself then.
    fromSaid: toInstant(from ?? here),
    toSaid: toInstant(to ?? here),
    lastStillId: last ?? still.id,
  }
  return { ...range, photos: await countRun(ledger, range) }
}

async function countRun(ledger: Ledger, run: Omit<RunOfStills, 'photos'>): Promise<number> {
  const { rows } = await sql<{ photos: number }>`select count(*)::int as photos from stills
    where ${inRun(run)}`.execute(ledger)
  return rows[0]!.photos
}

const inRun = ({ cameraId, fromSaid, toSaid, lastStillId }: Omit<RunOfStills, 'photos'>) =>
  sql`camera_id = ${cameraId} and id <= ${lastStillId} and ${SAID} between ${toDate(fromSaid)} and ${toDate(toSaid)}`

export interface RunView {
  /** First and last by the time that stands, and how many are in doubt before and after. */
  readonly first: { readonly id: number; readonly takenAt: Date }
  readonly last: { readonly id: number; readonly takenAt: Date }
  readonly inDoubt: number
  readonly inDoubtAfter: number
}

/** A run before a shift of so many seconds, and how many would be in doubt after it. */
export async function viewRun(ledger: Ledger, run: RunOfStills, seconds: number): Promise<RunView> {
  const times = (await readTimesOf(ledger, [run.cameraId])).get(run.cameraId)?.times ?? []
  const earliest = times[0]?.from ?? null
  const latest = times.at(-1)?.to ?? null
  const tolerance = CLOCK_DRIFT_TOLERANCE_MINUTES * 60
  const after = sql`taken_at + make_interval(secs => ${seconds})`
  const { rows } = await sql<{
    first_id: number
    first_at: Date
    last_id: number
    last_at: Date
    in_doubt: number
    in_doubt_after: number
  }>`
    select (array_agg(id order by taken_at, id))[1] as first_id, min(taken_at) as first_at,
      (array_agg(id order by taken_at desc, id desc))[1] as last_id, max(taken_at) as last_at,
      (count(*) filter (where clock_doubt is not null))::int as in_doubt,
      (count(*) filter (where ${after} < ${earliest && toDate(earliest)}::timestamptz - make_interval(secs => ${tolerance})
        or ${after} > ${latest && toDate(latest)}::timestamptz + make_interval(secs => ${tolerance})))::int as in_doubt_after
    from stills where ${inRun(run)}`.execute(ledger)
  const row = rows[0]!
  return {
    first: { id: row.first_id, takenAt: row.first_at },
    last: { id: row.last_id, takenAt: row.last_at },
    inDoubt: row.in_doubt,
    inDoubtAfter: row.in_doubt_after,
  }
}
