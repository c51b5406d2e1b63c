/**
 * Counts again under new marks, a bounded batch at a time. Each still changes in one step, with its visits and nights,
 * so nobody sees half of one; until the walk has come to a still it stands by the old marks. Once all stills of a point
 * are through, its visits, nights and watched time are grouped again in one step.
 */
import { sql, type Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { askForRecount } from './recount-asked.ts'
import { regroup } from './regroup.ts'
import { type Place, rejudgeStills } from './rejudge.ts'
import { type LedgerOrTransaction, readSettings } from './settings.ts'
import type { Tables } from './tables.ts'

export interface RecountView {
  readonly state: 'running' | 'paused' | 'done'
  /** Stills to walk through, and walked through. */
  readonly total: number
  readonly done: number
  readonly lastError: string | null
}

/** The recount under way, or null. */
export async function findRecount(ledger: LedgerOrTransaction): Promise<RecountView | null> {
  const row = await ledger.selectFrom('recount').selectAll().where('state', '!=', 'done').executeTakeFirst()
  if (row === undefined) return null
  return {
    state: row.state,
    total: row.total,
    done: Math.min(row.done, row.total),
    lastError: row.last_error,
  }
}

/** Pauses the recount under way, or goes on with it. There is no stopping it: the counts would stay mixed. */
export async function pauseRecount(ledger: Ledger, paused: boolean): Promise<RecountView> {
  await ledger
    .updateTable('recount')
    .set({ state: paused ? 'paused' : 'running' })
    .where('state', '!=', 'done')
    .execute()
  const recount = await findRecount(ledger)
  if (recount !== null) return recount
  throw new Refusal({
    kind: 'conflict',
    detail: 'Nothing is being counted again.',
    remedy: 'It begins by itself when a mark, whose animals they are, the gap or the zone is changed.',
  })
}

/**
 * The next batch of the recount under way: the point whose walk is furthest behind, so that the newest nights of all
 * points come first. False when there is nothing to do.
 */
export async function recountNext(ledger: Ledger): Promise<boolean> {
  return await ledger.transaction().execute(async (tx) => {
    const due = await tx
      .selectFrom('recount_points')
      .innerJoin('recount', (join) => join.on('recount.state', '=', 'running'))
      .select(['point_id', 'generation'])
      .orderBy('before_at', (order) => order.desc().nullsFirst())
      .orderBy('point_id')
      .limit(1)
      .executeTakeFirst()
    if (due === undefined) {
      await sql`update recount set state = 'done' where state = 'running'
        and not exists (select 1 from recount_points)`.execute(tx)
      return false
    }
    const { point_id: pointId, generation } = due
    await lockPoint(tx, pointId)
    // Read again under the lock: another service may have been at this point.
    const place = await tx
      .selectFrom('recount_points')
      .select(['before_at', 'before_id'])
      .where('point_id', '=', pointId)
      .executeTakeFirst()
    if (place === undefined) return true
    const settings = await readSettings(tx)
    const walk = await rejudgeStills(tx, { pointId, before: placeOf(place), settings })
    if (walk.end) await regroup(tx, pointId, settings)
    await moveOn(tx, { pointId, generation, walk })
    return true
  })
}

/** The head's row first, as where a recount is asked for. Marks that changed meanwhile have set the walk back: it stays so. */
async function moveOn(
  tx: Transaction<Tables>,
  {
    pointId,
    generation,
    walk,
  }: {
    readonly pointId: number
    readonly generation: number
    readonly walk: Awaited<ReturnType<typeof rejudgeStills>>
  },
): Promise<void> {
  const { rows } = await sql`update recount set done = done + ${walk.walked}, last_error = null
    where generation = ${generation} returning id`.execute(tx)
  if (rows.length === 0) return
  if (walk.end) {
    await tx.deleteFrom('recount_points').where('point_id', '=', pointId).execute()
    return
  }
  await tx
    .updateTable('recount_points')
    .set({ before_at: walk.last.at, before_id: walk.last.id })
    .where('point_id', '=', pointId)
    .execute()
}

const placeOf = ({ before_at: at, before_id: id }: { before_at: Date | null; before_id: number | null }) =>
  at === null || id === null ? null : { at, id }

/** Says on screen why the recount does not come on. */
export async function tellRecountFault(ledger: Ledger, reason: string): Promise<void> {
  await ledger.updateTable('recount').set({ last_error: reason }).where('state', '=', 'running').execute()
}

/** All of a point at once, batch by batch. */
export async function recountPoint(ledger: Ledger, pointId: number): Promise<void> {
  let before: Place | null = null
  for (let end = false; !end; ) {
    const from: Place | null = before
    const walk = await ledger.transaction().execute(async (tx) => {
      await lockPoint(tx, pointId)
      const settings = await readSettings(tx)
      const walked = await rejudgeStills(tx, { pointId, before: from, settings })
      if (walked.end) await regroup(tx, pointId, settings)
      return walked
    })
    end = walk.end
    before = walk.end ? null : walk.last
  }
}

/** Every point, from the asking to the end, as a change of marks has it done in the background. */
export async function recountStation(ledger: Ledger): Promise<void> {
  await ledger.transaction().execute(askForRecount)
  while (await recountNext(ledger)) {
    // Batch after batch.
  }
}
