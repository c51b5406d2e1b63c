/** When cameras stood where: read, and changed with a log of every change. */
import { sql, type Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { TimeAtPoint } from '../tally/placing.ts'
import type { Instant } from '../words.ts'
import { findCamera } from './cameras.ts'
import type { LoggedTime } from './clock-tables.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { askForPlacing } from './placing-asked.ts'
import { lockPoints } from './point-lock.ts'
import { findPoint } from './points.ts'
import { regroup } from './regroup.ts'
import { type LedgerOrTransaction, readSettings } from './settings.ts'
import type { Tables } from './tables.ts'

export interface TimesOfCamera {
  /** Oldest first. */
  readonly times: readonly TimeAtPoint[]
  readonly version: number
}

/** When each camera stood where, and which version of that it is: one statement, so that both are of one moment. */
export async function readTimesOf(
  ledger: LedgerOrTransaction,
  cameraIds: readonly number[],
): Promise<ReadonlyMap<number, TimesOfCamera>> {
  const rows = await ledger
    .selectFrom('cameras')
    .innerJoin('deployments', 'deployments.camera_id', 'cameras.id')
    .select(['cameras.id', 'times_version', 'deployments.point_id', 'started_at', 'ended_at'])
    .where('cameras.id', 'in', cameraIds)
    .orderBy('deployments.id')
    .execute()
  const times = new Map<number, { times: TimeAtPoint[]; version: number }>()
  for (const row of rows) {
    const known = times.get(row.id) ?? { times: [], version: row.times_version }
    known.times.push({
      pointId: row.point_id,
      from: row.started_at && toInstant(row.started_at),
      to: row.ended_at && toInstant(row.ended_at),
    })
    times.set(row.id, known)
  }
  return times
}

export interface TimesChange {
  readonly who: string
  readonly note: string | null
  readonly now: Instant
}

/**
 * Puts other times in the place of a camera's. What was watched follows at once; its photos are put in their places in the
 * background. What it was before stays in the log.
 * @throws Refusal when the times overlap or are out of order
 */
export async function changeTimes(
  ledger: Ledger,
  cameraId: number,
  { times, ...change }: TimesChange & { readonly times: readonly TimeAtPoint[] },
): Promise<void> {
  refuseMixedUp(times)
  for (const { pointId } of times) await findPoint(ledger, pointId)
  await ledger.transaction().execute(async (tx) => {
    await findCamera(tx, cameraId)
    const timesNow = async () => (await readTimesOf(tx, [cameraId])).get(cameraId)?.times ?? []
    const pointsOf = (some: readonly TimeAtPoint[]) => some.map(({ pointId }) => pointId)
    // Points before the camera, as whoever takes photos in does.
    const seen = await timesNow()
    await lockPoints(tx, pointsOf([...seen, ...times]))
    await tx.selectFrom('cameras').select('id').where('id', '=', cameraId).forUpdate().execute()
    const before = await timesNow()
    const points = [...new Set(pointsOf([...before, ...times]))]
    await lockPoints(tx, points)
    await writeTimes(tx, cameraId, { before, after: times, ...change })
    const settings = await readSettings(tx)
    for (const pointId of points) await regroup(tx, pointId, settings)
    await askForPlacing(tx, { cameraId, fromSaid: null, toSaid: null })
  })
}

/** Writes the times down, and in the log. The points are locked by the caller. */
export async function writeTimes(
  tx: Transaction<Tables>,
  cameraId: number,
  {
    before,
    after,
    who,
    note,
    now,
  }: TimesChange & { readonly before: readonly TimeAtPoint[]; readonly after: readonly TimeAtPoint[] },
): Promise<void> {
  const last = after.at(-1)!
  await tx.deleteFrom('deployments').where('camera_id', '=', cameraId).execute()
  for (const { pointId, from, to } of after) {
    await tx
      .insertInto('deployments')
      .values({
        camera_id: cameraId,
        point_id: pointId,
        started_at: from && toDate(from),
        ended_at: to && toDate(to),
      })
      .execute()
  }
  await sql`update cameras set point_id = ${last.pointId}, is_up = ${last.to === null},
    times_version = times_version + 1 where id = ${cameraId}`.execute(tx)
  await tx
    .insertInto('camera_time_changes')
    .values({
      camera_id: cameraId,
      at: toDate(now),
      who,
      note,
      before: JSON.stringify(before.map(logged)),
      after: JSON.stringify(after.map(logged)),
    })
    .execute()
}

const logged = ({ pointId, from, to }: TimeAtPoint): LoggedTime => ({
  pointId,
  from: from && toDate(from).toISOString(),
  to: to && toDate(to).toISOString(),
})

/** Every change of a camera's times, the latest first. */
export async function listTimeChanges(ledger: Ledger, cameraId: number) {
  return await ledger
    .selectFrom('camera_time_changes')
    .selectAll()
    .where('camera_id', '=', cameraId)
    .orderBy('id', 'desc')
    .execute()
}

/** Each ends before the next begins; only the first may have begun at a time not known, only the last may go on. */
function refuseMixedUp(times: readonly TimeAtPoint[]): void {
  if (times.length === 0) throw mixedUp('times', 'no time at any point is left', 'Leave at least one.')
  times.forEach(({ from, to }, i) => {
    const before = times[i - 1]
    if (from !== null && to !== null && to < from)
      throw mixedUp(`times.${i}.to`, 'it was taken down before it was put up', 'Put the later day second.')
    if (before === undefined) return
    if (from === null || before.to === null)
      throw mixedUp(
        `times.${i}.from`,
        'it stood at two points at once',
        'Say when it was taken down at the one and put up at the other.',
      )
    if (from < before.to)
      throw mixedUp(
        `times.${i}.from`,
        'it was put up there before it was taken down at the point before',
        'Put up no earlier than taken down.',
      )
  })
}

const mixedUp = (field: string, what: string, remedy: string) =>
  new Refusal({ kind: 'bad input', detail: `The camera’s times: ${what}.`, field, remedy })
