/** Takes a still into the ledger: the row is the acknowledgement. */
import { sql, type Transaction } from 'kysely'
import type { Instant, NightDate, TakenFrom } from '../words.ts'
import { aroundContacts } from './contacts.ts'
import { recountChanged } from './effort.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { askForPlacing } from './placing-asked.ts'
import { lockPoints } from './point-lock.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { StillState, Tables } from './tables.ts'

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
  /** What speaks against its clock by itself; as `clockDoubt` unless said. */
  readonly ownDoubt?: string | null
  /** Of when its camera stood where, as it was placed by; placed again where that has changed meanwhile. */
  readonly timesVersion?: number
  readonly night: NightDate
  readonly receivedAt: Instant
  /** A person put it in: not one of those that its camera may send in a day. */
  readonly byHand?: boolean
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

export interface StillName {
  readonly cameraId: number
  readonly hash: Buffer
}

/** What makes a still the same still: these bytes from this camera. */
export interface StillName {
  readonly cameraId: number
  readonly hash: Buffer
}

const keyOf = ({ cameraId, hash }: StillName) => `${cameraId} ${hash.toString('base64')}`

/** Those of the stills that came before, each by its key. */
async function findByName(
  ledger: LedgerOrTransaction,
  names: readonly StillName[],
): Promise<Map<string, ReceivedStill>> {
  if (names.length === 0) return new Map()
  const rows = await ledger
    .selectFrom('stills')
    .select([...ANSWER, 'camera_id', 'hash'])
    .where((e) =>
      e.or(names.map(({ cameraId, hash }) => e.and([e('camera_id', '=', cameraId), e('hash', '=', hash)]))),
    )
    .execute()
  return new Map(rows.map((row) => [keyOf({ cameraId: row.camera_id, hash: row.hash }), answer(row, true)]))
}

/** The stills that these bytes already are, in the order asked for; null where they are new. */
export async function findKnownStills(
  ledger: Ledger,
  names: readonly StillName[],
): Promise<Array<ReceivedStill | null>> {
  const known = await findByName(ledger, names)
  return names.map((name) => known.get(keyOf(name)) ?? null)
}

/**
 * Adds stills and their contacts in one transaction; their bytes must be safe on disk already. Many at once cost little
 * more than one.
 * @returns their answers, in their order
 */
export async function receiveStills(ledger: Ledger, stills: readonly NewStill[]): Promise<ReceivedStill[]> {
  return await ledger.transaction().execute(async (tx) => {
    await lockPoints(
      tx,
      stills.map(({ pointId }) => pointId),
    )
    const contacts = stills.flatMap(({ cameraId, pointId, takenAt, clockDoubt }) =>
      clockDoubt === null ? [{ cameraId, pointId, at: takenAt }] : [],
    )
    const around = await aroundContacts(tx, contacts)
    const added = await insertStills(tx, stills)
    const fresh = new Map(
      stills.flatMap((still) => (added.has(keyOf(still)) ? [[keyOf(still), still] as const] : [])),
    )
    await countAtCameras(tx, [...fresh.values()])
    await recountChanged(tx, around)
    const known = await findByName(
      tx,
      stills.filter((still) => !added.has(keyOf(still))),
    )
    const answered = new Set<string>()
    return stills.map((still) => {
      const key = keyOf(still)
      const row = added.get(key)
      // The same bytes twice in one go: the second is known.
      const again = answered.has(key)
      answered.add(key)
      return row === undefined ? known.get(key)! : { ...row, known: again }
    })
  })
}

/** @returns those that were not there yet, by key */
async function insertStills(
  tx: Transaction<Tables>,
  stills: readonly NewStill[],
): Promise<Map<string, ReceivedStill>> {
  const rows = await tx
    .insertInto('stills')
    .values(
      stills.map((still) => ({
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
        own_doubt: still.ownDoubt === undefined ? still.clockDoubt : still.ownDoubt,
        night: still.night,
        received_at: toDate(still.receivedAt),
        state: still.unreadableReason === null ? ('received' as const) : ('unreadable' as const),
        reason: still.unreadableReason,
        model_id: null,
      })),
    )
    .onConflict((conflict) => conflict.columns(['camera_id', 'hash']).doNothing())
    .returning([...ANSWER, 'camera_id', 'hash'])
    .execute()
  return new Map(rows.map((row) => [keyOf({ cameraId: row.camera_id, hash: row.hash }), answer(row, false)]))
}

/** Keeps the cameras' counts and last contacts; rows in the order of their ids, so that two batches can't wait for each other. */
async function countAtCameras(tx: Transaction<Tables>, stills: readonly NewStill[]): Promise<void> {
  const ids = [...new Set(stills.map(({ cameraId }) => cameraId))].sort((a, b) => a - b)
  for (const id of ids) {
    const own = stills.filter(({ cameraId }) => cameraId === id)
    const came = toDate(Math.max(...own.map(({ receivedAt }) => receivedAt)) as Instant)
    const trusted = own.flatMap(({ takenAt, clockDoubt }) => (clockDoubt === null ? [takenAt] : []))
    const bytes = own.reduce((sum, still) => sum + still.bytes, 0)
    const sent = own.filter(({ byHand }) => byHand !== true).length
    const unreadable = own.filter(({ unreadableReason }) => unreadableReason !== null).length
    const { times_version: version } = await tx
      .updateTable('cameras')
      .set((e) => ({
        stills: e('stills', '+', own.length),
        still_bytes: e('still_bytes', '+', bytes),
        unreadable: e('unreadable', '+', unreadable),
        day_began_at: sql<Date>`case when ${sameDay(came)} then day_began_at else ${came} end`,
        day_stills: sql<number>`case when ${sameDay(came)} then day_stills else 0 end + ${sent}`,
        ...(trusted.length > 0 && {
          last_contact_at: e.fn<Date>('greatest', [
            'last_contact_at',
            e.val(toDate(Math.max(...trusted) as Instant)),
          ]),
        }),
      }))
      .where('id', '=', id)
      .returning('times_version')
      .executeTakeFirstOrThrow()
    // Its times were changed between the look at them and this: whoever changed them could not know of these stills.
    const late = own.filter(({ timesVersion }) => timesVersion !== undefined && timesVersion !== version)
    if (late.length === 0) continue
    const said = late.map(({ takenAt }) => takenAt)
    await askForPlacing(tx, {
      cameraId: id,
      fromSaid: Math.min(...said) as Instant,
      toSaid: Math.max(...said) as Instant,
    })
  }
}

/** Whether the camera's day of photos still runs then; one begun by a clock that ran ahead does not. */
function sameDay(came: Date) {
  return sql`coalesce(day_began_at > ${came}::timestamptz - interval '24 hours' and day_began_at <= ${came}::timestamptz, false)`
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
