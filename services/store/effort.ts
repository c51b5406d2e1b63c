/** Keeps the effort table: for each point and night, the seconds in which at least one of its cameras was watching. */
import type { Transaction } from 'kysely'
import { secondsWithin } from '../tally/effort.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import type { Instant, NightDate, Spell, Zone } from '../words.ts'
import { neighboursOf } from './contacts.ts'
import { toDate, toInstant } from './instants.ts'
import type { Tables } from './tables.ts'
import { watchedWithin } from './watched.ts'

const MS_PER_HOUR = 3_600_000
/** A statement holds 65,535 parameters, and a row of effort has three. */
const ROWS_AT_ONCE = 10_000

interface WatchingCamera {
  readonly id: number
  readonly expected_silence_hours: number
  readonly sends_heartbeats: boolean
}

/** Works the given nights of a point out again from its contacts. The point is locked by the caller. */
export async function recountEffort(
  tx: Transaction<Tables>,
  { pointId, nights, zone }: { pointId: number; nights: readonly NightDate[]; zone: Zone },
): Promise<void> {
  const first = nights[0]
  const last = nights.at(-1)
  if (first === undefined || last === undefined) return
  const whole = { from: nightSpell(first, zone).from, to: nightSpell(last, zone).to }
  const watched = await watchedWithin(tx, pointId, whole)
  const rows = nights
    .map((night) => ({
      point_id: pointId,
      night,
      watched_seconds: secondsWithin(watched, nightSpell(night, zone)),
    }))
    .filter((row) => row.watched_seconds > 0)
  await tx.deleteFrom('effort').where('point_id', '=', pointId).where('night', 'in', nights).execute()
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE) {
    await tx
      .insertInto('effort')
      .values(rows.slice(from, from + ROWS_AT_ONCE))
      .execute()
  }
}

/**
 * A new contact of a camera: works out which nights it can change and counts only those again. A contact between two
 * that were close enough already changes nothing, which is the common case.
 */
export async function touchEffort(
  tx: Transaction<Tables>,
  { cameraId, pointId, at, zone }: { cameraId: number; pointId: number; at: Instant; zone: Zone },
): Promise<void> {
  const camera = await tx
    .selectFrom('cameras')
    .select(['id', 'expected_silence_hours', 'sends_heartbeats'])
    .where('id', '=', cameraId)
    .executeTakeFirstOrThrow()
  const spell = await spellChangedBy(tx, camera, at)
  if (spell === null) return
  const nights = nightsBetween(nightOf(spell.from, zone), nightOf(spell.to, zone))
  await recountEffort(tx, { pointId, nights, zone })
}

async function spellChangedBy(
  tx: Transaction<Tables>,
  camera: WatchingCamera,
  at: Instant,
): Promise<Spell | null> {
  if (!camera.sends_heartbeats) return await spellOfQuietCamera(tx, camera.id, at)
  const { before, after, here } = await neighboursOf(tx, camera.id, at)
  if (here > 1) return null
  const silenceMs = camera.expected_silence_hours * MS_PER_HOUR
  if (before !== null && after !== null && after - before <= silenceMs) return null
  const from = before !== null && at - before <= silenceMs ? before : at
  const to = after !== null && after - at <= silenceMs ? after : at
  return from === to ? null : { from, to }
}

/** Without heartbeats, watching runs from a deployment's start to its last contact: only a new outer contact counts. */
async function spellOfQuietCamera(
  tx: Transaction<Tables>,
  cameraId: number,
  at: Instant,
): Promise<Spell | null> {
  const deployment = await tx
    .selectFrom('deployments')
    .select(['started_at', 'ended_at'])
    .where('camera_id', '=', cameraId)
    .where((e) => e.or([e('started_at', 'is', null), e('started_at', '<=', toDate(at))]))
    .where((e) => e.or([e('ended_at', 'is', null), e('ended_at', '>=', toDate(at))]))
    .orderBy('id', 'desc')
    .executeTakeFirst()
  if (deployment === undefined) return null
  const { before, after, here } = await neighboursOf(tx, cameraId, at, deployment)
  if (here > 1 || (before !== null && after !== null)) return null
  const start = before ?? (deployment.started_at === null ? at : toInstant(deployment.started_at))
  const end = after ?? at
  return start === end ? null : { from: start, to: end }
}
