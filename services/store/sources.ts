/** How each camera's photos are fetched, and how the last try went. */
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant, SourceKindName } from '../words.ts'
import type { CameraRow } from './cameras.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import type { CameraSourcesTable } from './source-tables.ts'

export type SourceRow = Selectable<CameraSourcesTable>
export type SourceOfCamera = SourceRow & { readonly camera: CameraRow }

export async function listSources(ledger: Ledger, cameraId?: number): Promise<SourceRow[]> {
  return await ledger
    .selectFrom('camera_sources')
    .selectAll()
    .$if(cameraId !== undefined, (query) => query.where('camera_id', '=', cameraId!))
    .orderBy('id')
    .execute()
}

/** @throws Refusal where the camera has no such source */
export async function findSource(
  ledger: Ledger,
  { cameraId, sourceId }: { readonly cameraId: number; readonly sourceId: number },
): Promise<SourceRow> {
  const row = await ledger
    .selectFrom('camera_sources')
    .selectAll()
    .where('id', '=', sourceId)
    .where('camera_id', '=', cameraId)
    .executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `Camera ${cameraId} has no way in with the number ${sourceId}.`,
    field: 'source',
    remedy: 'Open the camera in Set-up: it lists its ways in.',
  })
}

/** The ids of sources that are on and due, those that waited longest first. */
export async function listDueSources(ledger: Ledger, now: Instant): Promise<number[]> {
  const rows = await ledger
    .selectFrom('camera_sources')
    .select(['id', 'is_on', 'last_try_at', 'next_at'])
    .where('is_on', '=', true)
    .orderBy('next_at', (order) => order.asc().nullsFirst())
    .orderBy('id')
    .execute()
  return rows.filter((row) => isDue(row, now)).map(({ id }) => id)
}

/** A look that lies ahead of now was made before the clock was set back: what it said of the next is worth nothing. */
export function isDue(
  { is_on, last_try_at, next_at }: Pick<SourceRow, 'is_on' | 'last_try_at' | 'next_at'>,
  now: Instant,
): boolean {
  if (!is_on) return false
  return next_at === null || next_at.getTime() <= now || (last_try_at !== null && last_try_at.getTime() > now)
}

/** A source with its camera; null where it has been taken away. */
export async function readSource(ledger: Ledger, id: number): Promise<SourceOfCamera | null> {
  const row = await ledger.selectFrom('camera_sources').selectAll().where('id', '=', id).executeTakeFirst()
  if (row === undefined) return null
  const camera = await ledger
    .selectFrom('cameras')
    .selectAll()
    .where('id', '=', row.camera_id)
    .executeTakeFirstOrThrow()
  return { ...row, camera }
}

export async function addSource(
  ledger: Ledger,
  source: {
    readonly cameraId: number
    readonly kind: SourceKindName
    readonly settings: unknown
    readonly isOn: boolean
  },
): Promise<SourceRow> {
  return await ledger
    .insertInto('camera_sources')
    .values({
      camera_id: source.cameraId,
      kind: source.kind,
      settings: JSON.stringify(source.settings),
      is_on: source.isOn,
      last_try_at: null,
      last_ok_at: null,
      last_reason: null,
      next_at: null,
    })
    .returningAll()
    .executeTakeFirstOrThrow()
}

/** Changed settings begin anew: what was known of the old ones is let go, and the next try is at once. */
export async function changeSource(
  ledger: Ledger,
  id: number,
  change: { readonly settings?: unknown; readonly isOn?: boolean | undefined },
): Promise<SourceRow> {
  const begun = { last_reason: null, failures: 0, next_at: null, state: '{}' }
  return await ledger
    .updateTable('camera_sources')
    .set({
      ...(change.isOn !== undefined && { is_on: change.isOn, next_at: null }),
      ...(change.settings !== undefined && { settings: JSON.stringify(change.settings), ...begun }),
    })
    .where('id', '=', id)
    .returningAll()
    .executeTakeFirstOrThrow()
}

export async function removeSource(ledger: Ledger, id: number): Promise<void> {
  await ledger.deleteFrom('camera_sources').where('id', '=', id).execute()
}

export interface SourceLook {
  readonly at: Instant
  /** Null: well. */
  readonly reason: string | null
  readonly failures: number
  readonly nextAt: Instant
  readonly state: unknown
}

/** Settings that were changed meanwhile have begun anew: then nothing is written. */
export async function recordLook(
  ledger: Ledger,
  source: Pick<SourceRow, 'id' | 'settings'>,
  { at, reason, failures, nextAt, state }: SourceLook,
): Promise<void> {
  await ledger
    .updateTable('camera_sources')
    .set({
      last_try_at: toDate(at),
      ...(reason === null && { last_ok_at: toDate(at) }),
      last_reason: reason,
      failures,
      next_at: toDate(nextAt),
      state: JSON.stringify(state),
    })
    .where('id', '=', source.id)
    .where('settings', '=', JSON.stringify(source.settings))
    .execute()
}

export interface FailingSource {
  readonly cameraName: string
  readonly pointId: number
  readonly reason: string
}

/** A look may fail when a link drops for a moment; so many in a row are news. */
const NEWS_FROM_FAILURES = 3

export async function listFailingSources(ledger: Ledger): Promise<FailingSource[]> {
  const rows = await ledger
    .selectFrom('camera_sources')
    .innerJoin('cameras', 'cameras.id', 'camera_sources.camera_id')
    .select(['cameras.name', 'cameras.point_id', 'camera_sources.last_reason'])
    .where('is_on', '=', true)
    .where('failures', '>=', NEWS_FROM_FAILURES)
    .orderBy('cameras.name')
    .execute()
  return rows.map((row) => ({ cameraName: row.name, pointId: row.point_id, reason: row.last_reason ?? '' }))
}
