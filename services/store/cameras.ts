/** Cameras, and where and since when they stand. */
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import { hashOfKey } from './camera-keys.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { CamerasTable } from './tables.ts'

export type CameraRow = Selectable<CamerasTable>
export type CameraWithSince = CameraRow & { readonly since: Date | null }

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

/** The cameras that keys belong to, in their order, null where none. Only a key's hash is kept, so the look-up is by hash. */
export async function findCamerasByKey(
  ledger: Ledger,
  keys: readonly string[],
): Promise<Array<CameraRow | null>> {
  const hashes = keys.map(hashOfKey)
  const rows = await ledger.selectFrom('cameras').selectAll().where('key_hash', 'in', hashes).execute()
  return hashes.map((hash) => rows.find(({ key_hash }) => key_hash?.equals(hash)) ?? null)
}
