/**
 * Puts a camera's stills in their places, a bounded batch at a time: their times after shifts, their points after where the
 * camera stood. Each batch is one step with all that follows from it (visits, nights, watched time), so nobody sees half of
 * one, and a kill between two loses nothing. Doing it twice changes nothing.
 */
import { type Selectable, sql, type Transaction } from 'kysely'
import { nightOf } from '../tally/nights.ts'
import { type Placed, placed } from '../tally/placing.ts'
import { byStill } from './by-still.ts'
import { readTimesOf } from './camera-times.ts'
import { lastChecksOn } from './check-rows.ts'
import { toDate, toInstant } from './instants.ts'
import { tellChange } from './notices.ts'
import type { Ledger } from './open.ts'
import { recountMovedContacts } from './placing-effort.ts'
import { lockPoints } from './point-lock.ts'
import { type LedgerOrTransaction, readSettings, type Settings } from './settings.ts'
import { keepStanding, type StandingStill, standingOf, standingWord, toJudgedBox } from './sightings.ts'
import type { Tables } from './tables.ts'
import { standingShiftsOf } from './time-shifts.ts'

/** A few hundred milliseconds, in which photos of the points wait to be taken. */
const PLACED_AT_ONCE = 100

export interface PlacingView {
  readonly cameraId: number
  readonly total: number
  readonly done: number
  readonly lastError: string | null
}

/** Cameras whose stills are being put in their places. */
export async function listPlacing(ledger: LedgerOrTransaction): Promise<PlacingView[]> {
  const rows = await ledger.selectFrom('placing_walks').selectAll().orderBy('camera_id').execute()
  return rows.map((row) => ({
    cameraId: row.camera_id,
    total: row.total,
    done: Math.min(row.done, row.total),
    lastError: row.last_error,
  }))
}

/** The next batch; false when there is nothing to do. */
export async function placeNext(ledger: Ledger): Promise<boolean> {
  return await ledger.transaction().execute(async (tx) => {
    const due = await tx
      .selectFrom('placing_walks')
      .selectAll()
      .orderBy('camera_id')
      .limit(1)
      .executeTakeFirst()
    if (due === undefined) return false
    // Points first, as whoever takes photos in does; then the walk, so that no shift is written meanwhile.
    await lockPoints(tx, await pointsOf(tx, due))
    const walk = await tx
      .selectFrom('placing_walks')
      .selectAll()
      .where('camera_id', '=', due.camera_id)
      .forUpdate()
      .executeTakeFirst()
    if (walk === undefined || !sameCursor(walk, due)) return true
    const batch = await nextStills(tx, walk)
    if (batch.length === 0) {
      await tx.deleteFrom('placing_walks').where('camera_id', '=', walk.camera_id).execute()
      return true
    }
    await placeStills(tx, walk.camera_id, batch)
    const last = batch.at(-1)!
    await tx
      .updateTable('placing_walks')
      .set((e) => ({
        done: e('done', '+', batch.length),
        after_said: last.said,
        after_id: last.id,
        last_error: null,
      }))
      .where('camera_id', '=', walk.camera_id)
      .execute()
    return true
  })
}

/** Says on screen why it does not come on. */
export async function tellPlacingFault(ledger: Ledger, reason: string): Promise<void> {
  await ledger.updateTable('placing_walks').set({ last_error: reason }).execute()
}

type Walk = Selectable<Tables['placing_walks']>
type StillRow = Awaited<ReturnType<typeof nextStills>>[number]

const sameCursor = (a: Walk, b: Walk) =>
  a.after_said?.getTime() === b.after_said?.getTime() && a.after_id === b.after_id && a.done === b.done

/** In the order of the times they came with, which a shift does not change. */
async function nextStills(tx: Transaction<Tables>, walk: Walk) {
  const range = (said: string) => sql`camera_id = ${walk.camera_id}
    and (${walk.after_said}::timestamptz is null or (${sql.ref(said)}, id) > (${walk.after_said}::timestamptz, ${walk.after_id}::bigint))
    and (${walk.to_said}::timestamptz is null or ${sql.ref(said)} <= ${walk.to_said}::timestamptz)
    order by ${sql.ref(said)}, id limit ${PLACED_AT_ONCE}`
  const columns =
    sql.raw(`id, point_id, taken_at, clock_doubt, own_doubt, night::text as night, state, flagged, unsure,
    feral, checked, person`)
  const { rows } = await sql<
    Pick<
      Selectable<Tables['stills']>,
      'id' | 'point_id' | 'taken_at' | 'clock_doubt' | 'own_doubt' | 'night' | 'state'
    > & { readonly said: Date }
  >`select * from (
      (select ${columns}, taken_at as said from stills where said_at is null and ${range('taken_at')})
      union all
      (select ${columns}, said_at as said from stills where said_at is not null and ${range('said_at')})
    ) s order by said, id limit ${PLACED_AT_ONCE}`.execute(tx)
  return rows
}

/** Every point that the next batch may touch. */
async function pointsOf(tx: Transaction<Tables>, walk: Walk): Promise<number[]> {
  const times = (await readTimesOf(tx, [walk.camera_id])).get(walk.camera_id)?.times ?? []
  const stills = await nextStills(tx, walk)
  return [...times.map(({ pointId }) => pointId), ...stills.map((row) => row.point_id)]
}

async function placeStills(
  tx: Transaction<Tables>,
  cameraId: number,
  batch: readonly StillRow[],
): Promise<void> {
  const settings = await readSettings(tx)
  const times = (await readTimesOf(tx, [cameraId])).get(cameraId)?.times ?? []
  const shifts = await standingShiftsOf(tx, cameraId)
  const moved = batch.flatMap((still) => {
    const place = placed(
      { id: still.id, saidAt: toInstant(still.said), ownDoubt: still.own_doubt },
      { times, shifts, presentPointId: times.at(-1)?.pointId ?? still.point_id },
    )
    return isOther(still, place) ? [{ still, place }] : []
  })
  if (moved.length === 0) return
  await replace(tx, moved, settings)
  await recountMovedContacts(tx, cameraId, {
    times,
    moments: moved.flatMap(({ still, place }) => [
      ...(still.clock_doubt === null ? [toInstant(still.taken_at)] : []),
      ...(place.clockDoubt === null ? [place.takenAt] : []),
    ]),
    zone: settings.zone,
  })
  await tellChange(tx, {
    stillIds: moved.map(({ still }) => still.id),
    pointIds: [...new Set(moved.flatMap(({ still, place }) => [still.point_id, place.pointId]))],
    nights: [
      ...new Set(moved.flatMap(({ still, place }) => [still.night, nightOf(place.takenAt, settings.zone)])),
    ],
    checkId: 0,
  })
}

interface Moved {
  readonly still: StillRow
  readonly place: Placed
}

function isOther(still: StillRow, { takenAt, pointId, clockDoubt }: Placed): boolean {
  return (
    toInstant(still.taken_at) !== takenAt || still.point_id !== pointId || still.clock_doubt !== clockDoubt
  )
}

/** Takes what is counted from the stills out of its old place, moves them, and counts it in the new one. */
async function replace(tx: Transaction<Tables>, moved: readonly Moved[], settings: Settings): Promise<void> {
  const standing = await standingAfter(tx, moved, settings)
  const before = new Map(moved.map(({ still }) => [still.id, still]))
  await keepStanding(
    tx,
    standing.map(({ still, standing: after }) => ({
      still: before.get(still.id)!,
      standing: { ...after, sightings: [] },
    })),
    settings,
  )
  const rows = moved.map(({ still, place }) => ({
    id: still.id,
    taken_at: toDate(place.takenAt).toISOString(),
    said_at: place.takenAt === toInstant(still.said) ? null : still.said.toISOString(),
    clock_doubt: place.clockDoubt,
    point_id: place.pointId,
    night: nightOf(place.takenAt, settings.zone),
  }))
  await sql`update stills set taken_at = r.taken_at, said_at = r.said_at, clock_doubt = r.clock_doubt,
      point_id = r.point_id, night = r.night
    from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as r(id bigint, taken_at timestamptz, said_at timestamptz,
      clock_doubt text, point_id int, night date) where stills.id = r.id`.execute(tx)
  await keepStanding(tx, standing, settings)
}

/** What stands of the moved stills that were looked at, in their new places. */
async function standingAfter(
  tx: Transaction<Tables>,
  moved: readonly Moved[],
  settings: Settings,
): Promise<StandingStill[]> {
  const done = moved.filter(({ still }) => still.state === 'done')
  if (done.length === 0) return []
  const ids = done.map(({ still }) => still.id)
  const boxes = byStill(await tx.selectFrom('detections').selectAll().where('still_id', 'in', ids).execute())
  const words = new Map((await lastChecksOn(tx, ids)).map((word) => [word.stillId, standingWord(word)]))
  return done.map(({ still, place }) => {
    const after = {
      id: still.id,
      point_id: place.pointId,
      taken_at: toDate(place.takenAt),
      clock_doubt: place.clockDoubt,
    }
    const seen = { boxes: (boxes.get(still.id) ?? []).map(toJudgedBox), check: words.get(still.id) ?? null }
    return { still: after, standing: standingOf(after, seen, settings) }
  })
}
