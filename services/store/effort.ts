/** Keeps the effort table: for each point and night, the seconds in which at least one of its cameras was watching. */
import { sql, type Transaction } from 'kysely'
import { secondsWithin, unionOf, watchedSpells } from '../tally/effort.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import type { Instant, NightDate, Spell, Zone } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { Tables } from './tables.ts'

const MS_PER_HOUR = 3_600_000
/** A statement holds 65,535 parameters, and a row of effort has three. */
const ROWS_AT_ONCE = 10_000

interface WatchingCamera {
  readonly id: number
  readonly expected_silence_hours: number
  readonly sends_heartbeats: boolean
}

interface CameraDeployment extends WatchingCamera {
  readonly started_at: Date | null
  readonly ended_at: Date | null
}

/** Stills with a trusted clock and heartbeats: every time the camera is known to have been awake. */
function contactsOf(ledger: LedgerOrTransaction, cameraId: number) {
  return ledger
    .selectFrom('stills')
    .select('taken_at as at')
    .where('camera_id', '=', cameraId)
    .where('clock_doubt', 'is', null)
    .unionAll(ledger.selectFrom('heartbeats').select('at').where('camera_id', '=', cameraId))
}

async function contactsWithin(
  ledger: LedgerOrTransaction,
  cameraId: number,
  spell: Spell,
): Promise<Instant[]> {
  const rows = await ledger
    .selectFrom(contactsOf(ledger, cameraId).as('contacts'))
    .select('at')
    .where('at', '>=', toDate(spell.from))
    .where('at', '<=', toDate(spell.to))
    .orderBy('at')
    .execute()
  return rows.map((row) => toInstant(row.at))
}

/** First and last contact inside a deployment: all that a camera without heartbeats has to say. */
async function outerContacts(ledger: LedgerOrTransaction, camera: CameraDeployment): Promise<Instant[]> {
  const row = await ledger
    .selectFrom(contactsOf(ledger, camera.id).as('contacts'))
    .select((e) => [e.fn.min('at').as('first'), e.fn.max('at').as('last')])
    .$if(camera.started_at !== null, (query) => query.where('at', '>=', camera.started_at!))
    .$if(camera.ended_at !== null, (query) => query.where('at', '<=', camera.ended_at!))
    .executeTakeFirst()
  return row?.first && row.last ? [toInstant(row.first), toInstant(row.last)] : []
}

/** When the point was watched within a spell: the union over its cameras. */
export async function watchedWithin(
  ledger: LedgerOrTransaction,
  pointId: number,
  spell: Spell,
): Promise<Spell[]> {
  const deployments = await ledger
    .selectFrom('deployments')
    .innerJoin('cameras', 'cameras.id', 'deployments.camera_id')
    .select(['cameras.id', 'expected_silence_hours', 'sends_heartbeats', 'started_at', 'ended_at'])
    .where('deployments.point_id', '=', pointId)
    .execute()
  const watched: Spell[] = []
  for (const camera of deployments) {
    const silenceMs = camera.expected_silence_hours * MS_PER_HOUR
    const contacts = camera.sends_heartbeats
      ? await contactsWithin(ledger, camera.id, {
          from: (spell.from - silenceMs) as Instant,
          to: (spell.to + silenceMs) as Instant,
        })
      : await outerContacts(ledger, camera)
    watched.push(
      ...watchedSpells({
        contacts,
        deployments: [
          {
            from: camera.started_at === null ? null : toInstant(camera.started_at),
            to: camera.ended_at === null ? null : toInstant(camera.ended_at),
          },
        ],
        expectedSilenceHours: camera.expected_silence_hours,
        sendsHeartbeats: camera.sends_heartbeats,
      }),
    )
  }
  return unionOf(watched).flatMap(({ from, to }) => {
    const clipped = { from: Math.max(from, spell.from) as Instant, to: Math.min(to, spell.to) as Instant }
    return clipped.from < clipped.to ? [clipped] : []
  })
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

/** The contacts next to `at` on both sides, and how many stand at that very instant; inside a deployment if given. */
async function neighboursOf(
  tx: Transaction<Tables>,
  cameraId: number,
  at: Instant,
  within: { readonly started_at: Date | null; readonly ended_at: Date | null } = {
    started_at: null,
    ended_at: null,
  },
): Promise<{ readonly before: Instant | null; readonly after: Instant | null; readonly here: number }> {
  const moment = toDate(at)
  const side = async (table: 'stills' | 'heartbeats') => {
    const column = table === 'stills' ? sql.ref('taken_at') : sql.ref('at')
    const trusted = table === 'stills' ? sql`and clock_doubt is null` : sql``
    const from = within.started_at === null ? sql`` : sql`and ${column} >= ${within.started_at}`
    const to = within.ended_at === null ? sql`` : sql`and ${column} <= ${within.ended_at}`
    const where = sql`from ${sql.table(table)} where camera_id = ${cameraId} ${trusted} ${from} ${to}`
    const { rows } = await sql<{ before: Date | null; after: Date | null; here: number }>`select
      (select max(${column}) ${where} and ${column} < ${moment}) as before,
      (select min(${column}) ${where} and ${column} > ${moment}) as after,
      (select count(*)::int ${where} and ${column} = ${moment}) as here`.execute(tx)
    return rows[0]!
  }
  const stills = await side('stills')
  const heartbeats = await side('heartbeats')
  const befores = [stills.before, heartbeats.before].flatMap((date) =>
    date === null ? [] : [date.getTime()],
  )
  const afters = [stills.after, heartbeats.after].flatMap((date) => (date === null ? [] : [date.getTime()]))
  return {
    before: befores.length > 0 ? (Math.max(...befores) as Instant) : null,
    after: afters.length > 0 ? (Math.min(...afters) as Instant) : null,
    here: stills.here + heartbeats.here,
  }
}
