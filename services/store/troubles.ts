/** Stretches in which a camera spoke and could not see: found, ended, and what people say of them. */
import { type Selectable, sql, type Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import { nightOf, nightsBetween } from '../tally/nights.ts'
import type { Instant, Spell } from '../words.ts'
import { readTimesOf } from './camera-times.ts'
import type { CameraTroublesTable, TroubleKind, TroubleWord } from './clock-tables.ts'
import { recountEffort } from './effort.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoints } from './point-lock.ts'
import { type LedgerOrTransaction, readSettings } from './settings.ts'
import type { Tables } from './tables.ts'

export type TroubleRow = Selectable<CameraTroublesTable>

/** No end yet: as far as instants of this house go. */
const NO_END = 8.64e15 as Instant

/** When each camera could not see, of those that overlap a stretch and that nobody called fine. */
export async function troubleSpellsOf(
  ledger: LedgerOrTransaction,
  cameraIds: readonly number[],
  spell: Spell,
): Promise<ReadonlyMap<number, ReadonlyArray<{ readonly kind: TroubleKind; readonly spell: Spell }>>> {
  const spells = new Map<number, Array<{ readonly kind: TroubleKind; readonly spell: Spell }>>()
  if (cameraIds.length === 0) return spells
  const { rows } = await sql<{ camera_id: number; kind: TroubleKind; from_at: Date; to_at: Date | null }>`
    select camera_id, kind, from_at, to_at from camera_troubles
    where camera_id = any(${[...cameraIds]}::int[]) and not is_fine and from_at < ${toDate(spell.to)}
      and (to_at is null or to_at > ${toDate(spell.from)})`.execute(ledger)
  for (const row of rows) {
    const own = spells.get(row.camera_id) ?? []
    const to = row.to_at === null ? NO_END : toInstant(row.to_at)
    own.push({ kind: row.kind, spell: { from: toInstant(row.from_at), to } })
    spells.set(row.camera_id, own)
  }
  return spells
}

/** A camera's troubles, the latest first. */
export async function listTroubles(ledger: LedgerOrTransaction, cameraId: number): Promise<TroubleRow[]> {
  return await ledger
    .selectFrom('camera_troubles')
    .selectAll()
    .where('camera_id', '=', cameraId)
    .orderBy('from_at', 'desc')
    .orderBy('id', 'desc')
    .execute()
}

/** Writes down that a camera can't see since then; what was watched follows. One of its kind that goes on is left. */
export async function beginTrouble(
  ledger: Ledger,
  trouble: {
    readonly cameraId: number
    readonly kind: TroubleKind
    readonly from: Instant
    readonly stillId: number | null
    readonly now: Instant
  },
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    const points = await lockPointsOf(tx, trouble.cameraId)
    const { rows } = await sql`insert into camera_troubles (camera_id, kind, from_at, found_at, still_id)
      values (${trouble.cameraId}, ${trouble.kind}, ${toDate(trouble.from)}, ${toDate(trouble.now)}, ${trouble.stillId})
      on conflict (camera_id, kind) where to_at is null and not is_fine do nothing returning id`.execute(tx)
    if (rows.length > 0) await recountSince(tx, { points, from: trouble.from, to: trouble.now })
  })
}

/** Writes down that a trouble was over then. */
export async function endTrouble(ledger: Ledger, id: number, at: Instant, now: Instant): Promise<void> {
  const { camera_id: cameraId, from_at } = await findTrouble(ledger, id)
  await ledger.transaction().execute(async (tx) => {
    const points = await lockPointsOf(tx, cameraId)
    const end = Math.max(at, toInstant(from_at)) as Instant
    await tx
      .updateTable('camera_troubles')
      .set({ to_at: toDate(end) })
      .where('id', '=', id)
      .where('to_at', 'is', null)
      .execute()
    await recountSince(tx, { points, from: end, to: now })
  })
}

export interface WordOnTrouble {
  readonly troubleId: number
  readonly word: TroubleWord
  /** When it was set right; only with that word. */
  readonly setRightAt: Instant | null
  readonly who: string
  readonly note: string | null
  readonly now: Instant
}

/**
 * A person's word: nothing was wrong, it was set right, or what was said is taken back and it goes on. What was watched
 * follows in the same step.
 */
export async function sayTrouble(ledger: Ledger, said: WordOnTrouble): Promise<TroubleRow> {
  const { camera_id: cameraId } = await findTrouble(ledger, said.troubleId)
  return await ledger.transaction().execute(async (tx) => {
    const points = await lockPointsOf(tx, cameraId)
    const trouble = await findTrouble(tx, said.troubleId)
    const from = toInstant(trouble.from_at)
    const end = said.setRightAt === null ? said.now : (Math.max(said.setRightAt, from) as Instant)
    await tx
      .insertInto('camera_trouble_words')
      .values({
        trouble_id: trouble.id,
        at: toDate(said.now),
        who: said.who,
        word: said.word,
        set_right_at: said.word === 'set right' ? toDate(end) : null,
        note: said.note,
      })
      .execute()
    if (said.word === 'taken back') await refuseSecond(tx, trouble)
    const to = {
      fine: trouble.to_at ?? toDate(said.now),
      'set right': toDate(end),
      'taken back': null,
    }[said.word]
    await tx
      .updateTable('camera_troubles')
      .set({ to_at: to, is_fine: said.word === 'fine' })
      .where('id', '=', trouble.id)
      .execute()
    await recountSince(tx, { points, from, to: said.now })
    return await findTrouble(tx, trouble.id)
  })
}

/** Every word on troubles of a camera, the latest first. */
export async function listTroubleWords(ledger: Ledger, cameraId: number) {
  return await ledger
    .selectFrom('camera_trouble_words')
    .innerJoin('camera_troubles', 'camera_troubles.id', 'camera_trouble_words.trouble_id')
    .selectAll('camera_trouble_words')
    .where('camera_id', '=', cameraId)
    .orderBy('camera_trouble_words.id', 'desc')
    .execute()
}

/** @throws Refusal when there is none. */
export async function findTrouble(ledger: LedgerOrTransaction, id: number): Promise<TroubleRow> {
  const row = await ledger.selectFrom('camera_troubles').selectAll().where('id', '=', id).executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `Nothing was found wrong with a camera under the number ${id}.`,
    field: 'id',
    remedy: 'Open Cameras and choose it from the list.',
  })
}

async function refuseSecond(tx: Transaction<Tables>, { camera_id, kind, id }: TroubleRow): Promise<void> {
  const other = await tx
    .selectFrom('camera_troubles')
    .select('id')
    .where('camera_id', '=', camera_id)
    .where('kind', '=', kind)
    .where('id', '!=', id)
    .where('to_at', 'is', null)
    .where('is_fine', '=', false)
    .executeTakeFirst()
  if (other === undefined) return
  throw new Refusal({
    kind: 'conflict',
    detail: 'The same was found wrong with this camera again since.',
    field: 'word',
    remedy: 'Say what you know of the later one.',
  })
}

async function lockPointsOf(tx: Transaction<Tables>, cameraId: number): Promise<number[]> {
  const times = (await readTimesOf(tx, [cameraId])).get(cameraId)?.times ?? []
  const points = [...new Set(times.map(({ pointId }) => pointId))]
  await lockPoints(tx, points)
  return points
}

async function recountSince(
  tx: Transaction<Tables>,
  { points, from, to }: { readonly points: readonly number[] } & Spell,
): Promise<void> {
  const { zone } = await readSettings(tx)
  // A contact may lie a little ahead of this clock.
  const nights = nightsBetween(nightOf(from, zone), nightOf((to + DAY_MS) as Instant, zone))
  for (const pointId of points) await recountEffort(tx, { pointId, nights, zone })
}

const DAY_MS = 86_400_000
