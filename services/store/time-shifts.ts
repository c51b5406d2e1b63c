/** Runs of a camera's photos moved in time, and moved back: a log that is only ever added to. */
import { sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { TimeShift } from '../tally/placing.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { askForPlacing } from './placing-asked.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { RunOfStills } from './shift-runs.ts'

const SHOWN_SHIFTS = 50

/** The shifts of a camera that nobody took back. */
export async function standingShiftsOf(ledger: LedgerOrTransaction, cameraId: number): Promise<TimeShift[]> {
  const rows = await ledger
    .selectFrom('time_shifts')
    .leftJoin('time_shift_undos', 'time_shift_undos.shift_id', 'time_shifts.id')
    .select(['from_said', 'to_said', 'last_still_id', 'seconds'])
    .where('camera_id', '=', cameraId)
    .where('time_shift_undos.shift_id', 'is', null)
    .execute()
  return rows.map((row) => ({
    fromSaid: toInstant(row.from_said),
    toSaid: toInstant(row.to_said),
    lastStillId: row.last_still_id,
    seconds: row.seconds,
  }))
}

export interface ShiftToMake {
  readonly run: RunOfStills
  /** Added to the times of the run; 0 says that they are right. */
  readonly seconds: number
  /** The photo of which its true time was said. */
  readonly stillId: number
  readonly who: string
  readonly note: string | null
  readonly now: Instant
}

/** Writes a shift down and asks for its photos to be put in their places. @returns its id */
export async function addShift(ledger: Ledger, { run, now, ...shift }: ShiftToMake): Promise<number> {
  return await ledger.transaction().execute(async (tx) => {
    const { id } = await tx
      .insertInto('time_shifts')
      .values({
        camera_id: run.cameraId,
        from_said: toDate(run.fromSaid),
        to_said: toDate(run.toSaid),
        last_still_id: run.lastStillId,
        photos: run.photos,
        seconds: shift.seconds,
        still_id: shift.stillId,
        at: toDate(now),
        who: shift.who,
        note: shift.note,
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    await askForPlacing(tx, run)
    return id
  })
}

/** Takes a shift back: each of its photos gets the time again that it would have without it. Twice is once. */
export async function undoShift(
  ledger: Ledger,
  id: number,
  { who, note, now }: { readonly who: string; readonly note: string | null; readonly now: Instant },
): Promise<void> {
  const shift = await findShift(ledger, id)
  await ledger.transaction().execute(async (tx) => {
    const undone = await tx
      .insertInto('time_shift_undos')
      .values({ shift_id: id, at: toDate(now), who, note })
      .onConflict((conflict) => conflict.column('shift_id').doNothing())
      .returning('shift_id')
      .executeTakeFirst()
    if (undone === undefined) return
    await askForPlacing(tx, {
      cameraId: shift.camera_id,
      fromSaid: toInstant(shift.from_said),
      toSaid: toInstant(shift.to_said),
    })
  })
}

const shiftsWithUndos = (ledger: LedgerOrTransaction) =>
  ledger
    .selectFrom('time_shifts')
    .innerJoin('cameras', 'cameras.id', 'time_shifts.camera_id')
    .leftJoin('time_shift_undos', 'time_shift_undos.shift_id', 'time_shifts.id')
    .selectAll('time_shifts')
    .select([
      'cameras.name as camera_name',
      'time_shift_undos.at as undone_at',
      'time_shift_undos.who as undone_by',
    ])

export type ShiftView = Awaited<ReturnType<typeof listShifts>>[number]

/** The latest shifts, of one camera or of all, the newest first. */
export async function listShifts(ledger: Ledger, cameraId?: number) {
  return await shiftsWithUndos(ledger)
    .$if(cameraId !== undefined, (query) => query.where('time_shifts.camera_id', '=', cameraId!))
    .orderBy('time_shifts.id', 'desc')
    .limit(SHOWN_SHIFTS)
    .execute()
}

/** The shifts that stand over a still, the newest first. */
export async function shiftsOverStill(
  ledger: Ledger,
  still: { readonly id: number; readonly cameraId: number; readonly saidAt: Date },
): Promise<ShiftView[]> {
  return await shiftsWithUndos(ledger)
    .where('time_shifts.camera_id', '=', still.cameraId)
    .where('time_shift_undos.shift_id', 'is', null)
    .where('last_still_id', '>=', still.id)
    .where(sql<boolean>`${still.saidAt} between from_said and to_said`)
    .orderBy('time_shifts.id', 'desc')
    .execute()
}

/** @throws Refusal when there is none. */
export async function findShift(ledger: Ledger, id: number): Promise<ShiftView> {
  const row = await shiftsWithUndos(ledger).where('time_shifts.id', '=', id).executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `No times were ever put right under the number ${id}.`,
    field: 'id',
    remedy: 'GET /api/shifts lists them.',
  })
}
