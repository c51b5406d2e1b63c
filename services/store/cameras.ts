/** Cameras, where and since when they stand, and their keys. */
import { createHash, randomBytes } from 'node:crypto'
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { touchEffort } from './effort.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { findPoint } from './points.ts'
import { type LedgerOrTransaction, readSettings } from './settings.ts'
import type { CamerasTable, DeploymentsTable } from './tables.ts'

export type CameraRow = Selectable<CamerasTable>
export type DeploymentRow = Selectable<DeploymentsTable>
export type CameraWithSince = CameraRow & { readonly since: Date | null }

export interface CameraFields {
  readonly name: string
  readonly pointId: number
  readonly zone: string | null
  readonly clockErrorSeconds: number
  readonly expectedSilenceHours: number
  readonly sendsHeartbeats: boolean
  readonly scheduleMinutes: number | null
}

const KEY_BYTES = 18
const HINT_SIGNS = 4

function hashOfKey(key: string): Buffer {
  return createHash('sha256').update(key).digest()
}

function newKey(): { readonly key: string; readonly columns: { key_hash: Buffer; key_hint: string } } {
  const key = randomBytes(KEY_BYTES).toString('base64url')
  return { key, columns: { key_hash: hashOfKey(key), key_hint: key.slice(-HINT_SIGNS) } }
}

function camerasWithSince(ledger: LedgerOrTransaction) {
  return ledger
    .selectFrom('cameras')
    .selectAll('cameras')
    .select((e) =>
      e
        .selectFrom('deployments')
        .select('started_at')
        .whereRef('camera_id', '=', 'cameras.id')
        .orderBy('deployments.id', 'desc')
        .limit(1)
        .as('since'),
    )
}

export async function listCameras(ledger: Ledger, pointId?: number): Promise<CameraWithSince[]> {
  return await camerasWithSince(ledger)
    .$if(pointId !== undefined, (query) => query.where('point_id', '=', pointId!))
    .orderBy('name')
    .execute()
}

export async function findCamera(ledger: LedgerOrTransaction, id: number): Promise<CameraWithSince> {
  const row = await camerasWithSince(ledger).where('cameras.id', '=', id).executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `There is no camera ${id}.`,
    field: 'id',
    remedy: 'Open Set-up and choose a camera from the list.',
  })
}

export async function findCameraByName(ledger: Ledger, name: string): Promise<CameraRow> {
  const row = await ledger.selectFrom('cameras').selectAll().where('name', '=', name).executeTakeFirst()
  if (row !== undefined) return row
  const names = (await listCameras(ledger)).map((camera) => `"${camera.name}"`)
  throw new Refusal({
    kind: 'not found',
    detail: `There is no camera called "${name}".`,
    field: 'camera',
    remedy:
      names.length === 0
        ? 'Add the camera in Set-up first.'
        : `Use one of ${names.join(', ')}, or add it in Set-up first.`,
  })
}

/** The camera a key belongs to, or null. Only the key's hash is kept, so the look-up is by hash. */
export async function findCameraByKey(ledger: Ledger, key: string): Promise<CameraRow | null> {
  const row = await ledger
    .selectFrom('cameras')
    .selectAll()
    .where('key_hash', '=', hashOfKey(key))
    .executeTakeFirst()
  return row ?? null
}

export async function addCamera(
  ledger: Ledger,
  camera: CameraFields,
  since: Instant | null,
): Promise<{ readonly camera: CameraWithSince; readonly key: string }> {
  await findPoint(ledger, camera.pointId)
  await refuseTakenName(ledger, camera.name, null)
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
  if (change.name !== undefined) await refuseTakenName(ledger, change.name, id)
  if (change.pointId !== undefined) await findPoint(ledger, change.pointId)
  await ledger.transaction().execute(async (tx) => {
    const moved = change.pointId !== undefined && change.pointId !== before.point_id
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
        }),
      )
      .where('id', '=', id)
      .execute()
    if (moved) {
      await tx
        .updateTable('deployments')
        .set({ ended_at: toDate(now) })
        .where('camera_id', '=', id)
        .where('ended_at', 'is', null)
        .execute()
      await tx
        .insertInto('deployments')
        .values({ camera_id: id, point_id: change.pointId!, started_at: toDate(now), ended_at: null })
        .execute()
    }
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

/** Every spell in which the camera stood somewhere, oldest first. */
export async function listDeployments(ledger: Ledger, cameraId: number): Promise<DeploymentRow[]> {
  return await ledger
    .selectFrom('deployments')
    .selectAll()
    .where('camera_id', '=', cameraId)
    .orderBy('id')
    .execute()
}

export interface Heartbeat {
  readonly cameraId: number
  readonly pointId: number
  readonly at: Instant
  readonly receivedAt: Instant
  readonly batteryPercent: number | null
  readonly temperatureC: number | null
  readonly signalPercent: number | null
  readonly freeBytes: number | null
}

/** A sign of life without a still. The same heartbeat sent again changes nothing. */
export async function recordHeartbeat(
  ledger: Ledger,
  heartbeat: Heartbeat,
): Promise<{ readonly known: boolean }> {
  return await ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, heartbeat.pointId)
    const row = await tx
      .insertInto('heartbeats')
      .values({
        camera_id: heartbeat.cameraId,
        at: toDate(heartbeat.at),
        received_at: toDate(heartbeat.receivedAt),
        battery_percent: heartbeat.batteryPercent,
        temperature_c: heartbeat.temperatureC,
        signal_percent: heartbeat.signalPercent,
        free_bytes: heartbeat.freeBytes,
      })
      .onConflict((conflict) => conflict.columns(['camera_id', 'at']).doNothing())
      .returning('at')
      .executeTakeFirst()
    if (row === undefined) return { known: true }
    await tx
      .updateTable('cameras')
      .set((e) => ({
        last_contact_at: e.fn<Date>('greatest', ['last_contact_at', e.val(toDate(heartbeat.at))]),
      }))
      .where('id', '=', heartbeat.cameraId)
      .execute()
    const { zone } = await readSettings(tx)
    await touchEffort(tx, { ...heartbeat, zone })
    return { known: false }
  })
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
  }
}

async function refuseTakenName(ledger: Ledger, name: string, exceptId: number | null): Promise<void> {
  const taken = await ledger.selectFrom('cameras').select('id').where('name', '=', name).executeTakeFirst()
  if (taken === undefined || taken.id === exceptId) return
  throw new Refusal({
    kind: 'conflict',
    detail: `A camera called "${name}" is here already.`,
    field: 'name',
    remedy: 'Give it another name, or change the camera that is here.',
  })
}
