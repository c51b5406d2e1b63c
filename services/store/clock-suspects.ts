/** Photos whose clock is found wrong only beside others: by the light in them, or by the order of a card. */
import { sql } from 'kysely'
import type { NumberedFile } from '../tally/clock-jumps.ts'
import type { PhotoInLight } from '../tally/clock-light.ts'
import { lightOf } from '../tally/light.ts'
import { type Place, sunElevation } from '../tally/sun.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { askForPlacing } from './placing-asked.ts'

/** Of all cameras: more than come in between two looks. */
const LATEST_RECEIVED = 50_000
const RECEIVED_WITHIN_HOURS = 3
const LATEST_PHOTOS = 200

/** Files that came in lately, by camera; those in doubt already are left out. */
export async function lateFilesByCamera(
  ledger: Ledger,
  now: Instant,
): Promise<ReadonlyMap<number, NumberedFile[]>> {
  const since = toDate((now - RECEIVED_WITHIN_HOURS * 3_600_000) as Instant)
  const { rows } = await sql<{ id: number; camera_id: number; file_name: string; taken_at: Date }>`
    select id, camera_id, file_name, taken_at from stills
    where id > (select coalesce(max(id), 0) - ${LATEST_RECEIVED} from stills) and received_at > ${since}
      and file_name is not null and clock_doubt is null and own_doubt is null and said_at is null
      and taken_from in ('exif', 'exif with offset', 'file time')`.execute(ledger)
  const files = new Map<number, NumberedFile[]>()
  for (const row of rows) {
    const own = files.get(row.camera_id) ?? []
    own.push({ stillId: row.id, name: row.file_name, at: toInstant(row.taken_at) })
    files.set(row.camera_id, own)
  }
  return files
}

/** The latest photos of a camera as their light is held against the sun, in order of time. */
export async function latestLightOf(
  ledger: Ledger,
  camera: { readonly id: number },
  place: Place,
): Promise<PhotoInLight[]> {
  const rows = await ledger
    .selectFrom('stills')
    .select(['id', 'taken_at', 'colourfulness'])
    .where('camera_id', '=', camera.id)
    .where('state', '=', 'done')
    .where('clock_doubt', 'is', null)
    .orderBy('taken_at', 'desc')
    .limit(LATEST_PHOTOS)
    .execute()
  return rows.toReversed().map((row) => ({
    stillId: row.id,
    at: toInstant(row.taken_at),
    light: lightOf(row.colourfulness),
    elevation: sunElevation(toInstant(row.taken_at), place),
  }))
}

/** True where a person once said of this camera's photos that their time was right, and still says so. */
export async function wasSaidRight(ledger: Ledger, cameraId: number): Promise<boolean> {
  const row = await ledger
    .selectFrom('time_shifts')
    .leftJoin('time_shift_undos', 'time_shift_undos.shift_id', 'time_shifts.id')
    .select('time_shifts.id')
    .where('camera_id', '=', cameraId)
    .where('seconds', '=', 0)
    .where('time_shift_undos.shift_id', 'is', null)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}

/** Puts photos' clocks in doubt; those that are already, or of which a person said the time, are left. @returns how many */
export async function doubtStills(
  ledger: Ledger,
  cameraId: number,
  { stillIds, why }: { readonly stillIds: readonly number[]; readonly why: string },
): Promise<number> {
  if (stillIds.length === 0) return 0
  return await ledger.transaction().execute(async (tx) => {
    const { rows } = await sql<{ said: Date }>`update stills set own_doubt = ${why}
      where camera_id = ${cameraId} and id = any(${[...stillIds]}::bigint[]) and own_doubt is null
      returning coalesce(said_at, taken_at) as said`.execute(tx)
    const said = rows.map((row) => toInstant(row.said))
    if (said.length === 0) return 0
    const fromSaid = said.reduce((a, b) => Math.min(a, b) as Instant)
    const toSaid = said.reduce((a, b) => Math.max(a, b) as Instant)
    await askForPlacing(tx, { cameraId, fromSaid, toSaid })
    return said.length
  })
}
