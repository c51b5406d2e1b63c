/** A camera's photos and signs of life as its troubles are told from. */

import type { CameraPhoto, CardRoom } from '../tally/camera-troubles.ts'
import { lightOf } from '../tally/light.ts'
import type { Instant } from '../words.ts'
import { toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

/** Enough for a day of a busy camera and the past it is held against. */
const LATEST_PHOTOS = 400
const LATEST_BEATS = 60

/** The latest photos of a camera whose clock is in no doubt and that were looked at, in order of time. */
export async function latestPhotosOf(ledger: LedgerOrTransaction, cameraId: number): Promise<CameraPhoto[]> {
  const rows = await ledger
    .selectFrom('stills')
    .select(['id', 'taken_at', 'state', 'colourfulness', 'contrast', 'detail', 'view'])
    .where('camera_id', '=', cameraId)
    .where('state', '!=', 'received')
    .where('clock_doubt', 'is', null)
    .orderBy('taken_at', 'desc')
    .limit(LATEST_PHOTOS)
    .execute()
  return rows.toReversed().map((row) => ({
    stillId: row.id,
    at: toInstant(row.taken_at),
    state: row.state === 'unreadable' ? 'unreadable' : 'done',
    light: lightOf(row.colourfulness),
    whole:
      row.contrast === null || row.detail === null || row.view === null
        ? null
        : { contrast: row.contrast, detail: row.detail, view: row.view },
  }))
}

/** What its latest signs of life said of the room on its card, in order of time; those that said nothing left out. */
export async function latestCardRoom(ledger: LedgerOrTransaction, cameraId: number): Promise<CardRoom[]> {
  const rows = await ledger
    .selectFrom('heartbeats')
    .select(['at', 'free_bytes'])
    .where('camera_id', '=', cameraId)
    .where('free_bytes', 'is not', null)
    .orderBy('at', 'desc')
    .limit(LATEST_BEATS)
    .execute()
  return rows.toReversed().map((row) => ({ at: toInstant(row.at), freeBytes: row.free_bytes ?? 0 }))
}

/** When the camera last sent a photo that can be read; null where it never did. */
export function lastPhotoAt(photos: readonly CameraPhoto[]): Instant | null {
  return photos.findLast(({ state }) => state === 'done')?.at ?? null
}
