/** Cameras put up, changed, moved, and given new keys. */
import type { Instant } from '../words.ts'
import { newKey } from './camera-keys.ts'
import { readTimesOf, writeTimes } from './camera-times.ts'
import { type CameraWithSince, findCamera } from './cameras.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoints } from './point-lock.ts'
import { findPoint } from './points.ts'
import { regroup } from './regroup.ts'
import { readSettings } from './settings.ts'
import { refuseTakenName } from './taken-name.ts'

export interface CameraFields {
  readonly name: string
  readonly pointId: number
  readonly zone: string | null
  readonly clockErrorSeconds: number
  readonly expectedSilenceHours: number
  readonly sendsHeartbeats: boolean
  readonly scheduleMinutes: number | null
  /** Not unless said. */
  readonly searchTiles?: boolean
}

export async function addCamera(
  ledger: Ledger,
  camera: CameraFields,
  since: Instant | null,
): Promise<{ readonly camera: CameraWithSince; readonly key: string }> {
  await findPoint(ledger, camera.pointId)
  await refuseTakenName(ledger, 'cameras', { name: camera.name, exceptId: null })
  const { key, columns } = newKey()
  const id = await ledger.transaction().execute(async (tx) => {
    const row = await tx
      .insertInto('cameras')
      .values({ ...cameraColumns(camera), ...columns, last_contact_at: null })
      .returning('id')
      .executeTakeFirstOrThrow()
    await tx
      .insertInto('deployments')
      .values({
        camera_id: row.id,
        point_id: camera.pointId,
        started_at: since === null ? null : toDate(since),
        ended_at: null,
      })
      .execute()
    // Its schedule may set how far apart two visits are at the point.
    if (camera.scheduleMinutes !== null) {
      await lockPoints(tx, [camera.pointId])
      await regroup(tx, camera.pointId, await readSettings(tx))
    }
    return row.id
  })
  return { camera: await findCamera(ledger, id), key }
}

/** Changes a camera; moved to another point, its spell at the old one ends and a new one begins at `now`. */
export async function changeCamera(
  ledger: Ledger,
  id: number,
  {
    change,
    now,
  }: {
    readonly change: { readonly [F in keyof CameraFields]?: CameraFields[F] | undefined }
    readonly now: Instant
  },
): Promise<CameraWithSince> {
  const before = await findCamera(ledger, id)
  if (change.name !== undefined) await refuseTakenName(ledger, 'cameras', { name: change.name, exceptId: id })
  if (change.pointId !== undefined) await findPoint(ledger, change.pointId)
  const moved = change.pointId !== undefined && change.pointId !== before.point_id
  const points = moved ? [before.point_id, change.pointId!] : [before.point_id]
  // How a camera watches decides which nights were watched, and the schedules at a point how far apart two visits are.
  const regroups =
    moved ||
    change.expectedSilenceHours !== undefined ||
    change.sendsHeartbeats !== undefined ||
    change.scheduleMinutes !== undefined
  await ledger.transaction().execute(async (tx) => {
    if (regroups) await lockPoints(tx, points)
    await tx
      .updateTable('cameras')
      .set(
        cameraColumns({
          name: change.name ?? before.name,
          pointId: change.pointId ?? before.point_id,
          zone: change.zone === undefined ? before.zone : change.zone,
          clockErrorSeconds: change.clockErrorSeconds ?? before.clock_error_seconds,
          expectedSilenceHours: change.expectedSilenceHours ?? before.expected_silence_hours,
          sendsHeartbeats: change.sendsHeartbeats ?? before.sends_heartbeats,
          scheduleMinutes:
            change.scheduleMinutes === undefined ? before.schedule_minutes : change.scheduleMinutes,
          searchTiles: change.searchTiles ?? before.search_tiles,
        }),
      )
      .where('id', '=', id)
      .execute()
    if (moved) {
      const before = (await readTimesOf(tx, [id])).get(id)?.times ?? []
      await writeTimes(tx, id, {
        before,
        after: [
          ...before.map((time) => (time.to === null ? { ...time, to: now } : time)),
          { pointId: change.pointId!, from: now, to: null },
        ],
        who: 'station',
        note: null,
        now,
      })
    }
    if (!regroups) return
    const settings = await readSettings(tx)
    for (const pointId of points) await regroup(tx, pointId, settings)
  })
  return await findCamera(ledger, id)
}

/** Gives the camera a new key; the old one stops working at once. */
export async function renewCameraKey(
  ledger: Ledger,
  id: number,
): Promise<{ readonly camera: CameraWithSince; readonly key: string }> {
  await findCamera(ledger, id)
  const { key, columns } = newKey()
  await ledger.updateTable('cameras').set(columns).where('id', '=', id).execute()
  return { camera: await findCamera(ledger, id), key }
}

function cameraColumns(camera: CameraFields) {
  return {
    name: camera.name,
    point_id: camera.pointId,
    zone: camera.zone,
    clock_error_seconds: camera.clockErrorSeconds,
    expected_silence_hours: camera.expectedSilenceHours,
    sends_heartbeats: camera.sendsHeartbeats,
    schedule_minutes: camera.scheduleMinutes,
    search_tiles: camera.searchTiles ?? false,
  }
}
