/** Takes a still into the ledger: the row is the acknowledgement. */

import type { Instant, NightDate, TakenFrom, Zone } from '../words.ts'
import { touchEffort } from './effort.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import type { StillState } from './tables.ts'

export interface NewStill {
  readonly cameraId: number
  readonly pointId: number
  /** SHA-256 of the bytes, 32 bytes. */
  readonly hash: Buffer
  readonly bytes: number
  readonly format: string | null
  readonly width: number | null
  readonly height: number | null
  readonly fileName: string | null
  readonly takenAt: Instant
  readonly takenFrom: TakenFrom
  readonly clockDoubt: string | null
  readonly night: NightDate
  readonly receivedAt: Instant
  /** Null: to be looked at. Otherwise kept as unreadable, for this reason. */
  readonly unreadableReason: string | null
}

export interface ReceivedStill {
  readonly id: number
  readonly state: StillState
  readonly reason: string | null
  readonly takenAt: Instant
  readonly takenFrom: TakenFrom
  readonly clockDoubt: string | null
  /** The same bytes from the same camera had come before: nothing was added. */
  readonly known: boolean
}

const ANSWER = ['id', 'state', 'reason', 'taken_at', 'taken_from', 'clock_doubt'] as const

/** The still these bytes already are, if they came from this camera before. */
export async function findKnownStill(
  ledger: Ledger,
  cameraId: number,
  hash: Buffer,
): Promise<ReceivedStill | null> {
  const row = await ledger
    .selectFrom('stills')
    .select(ANSWER)
    .where('camera_id', '=', cameraId)
    .where('hash', '=', hash)
    .executeTakeFirst()
  return row === undefined ? null : answer(row, true)
}

/** Adds the still and its contact in one transaction; the bytes must be safe on disk already. */
export async function receiveStill(ledger: Ledger, still: NewStill, zone: Zone): Promise<ReceivedStill> {
  return await ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, still.pointId)
    const unreadable = still.unreadableReason !== null
    const row = await tx
      .insertInto('stills')
      .values({
        camera_id: still.cameraId,
        point_id: still.pointId,
        hash: still.hash,
        bytes: still.bytes,
        format: still.format,
        width: still.width,
        height: still.height,
        file_name: still.fileName,
        taken_at: toDate(still.takenAt),
        taken_from: still.takenFrom,
        clock_doubt: still.clockDoubt,
        night: still.night,
        received_at: toDate(still.receivedAt),
        state: unreadable ? 'unreadable' : 'received',
        reason: still.unreadableReason,
        model_id: null,
      })
      .onConflict((conflict) => conflict.columns(['camera_id', 'hash']).doNothing())
      .returning(ANSWER)
      .executeTakeFirst()
    if (row === undefined) {
      const known = await tx
        .selectFrom('stills')
        .select(ANSWER)
        .where('camera_id', '=', still.cameraId)
        .where('hash', '=', still.hash)
        .executeTakeFirstOrThrow()
      return answer(known, true)
    }
    await tx
      .updateTable('cameras')
      .set((e) => ({
        stills: e('stills', '+', 1),
        still_bytes: e('still_bytes', '+', still.bytes),
        unreadable: e('unreadable', '+', unreadable ? 1 : 0),
        ...(still.clockDoubt === null && {
          last_contact_at: e.fn<Date>('greatest', ['last_contact_at', e.val(toDate(still.takenAt))]),
        }),
      }))
      .where('id', '=', still.cameraId)
      .execute()
    if (still.clockDoubt === null) {
      await touchEffort(tx, { cameraId: still.cameraId, pointId: still.pointId, at: still.takenAt, zone })
    }
    return answer(row, false)
  })
}

function answer(
  row: {
    id: number
    state: StillState
    reason: string | null
    taken_at: Date
    taken_from: TakenFrom
    clock_doubt: string | null
  },
  known: boolean,
): ReceivedStill {
  return {
    id: row.id,
    state: row.state,
    reason: row.reason,
    takenAt: toInstant(row.taken_at),
    takenFrom: row.taken_from,
    clockDoubt: row.clock_doubt,
    known,
  }
}
