/** Writes down what the eye saw on a second look: the old result stands until the new one takes its place in one step. */
import { sql, type Transaction } from 'kysely'
import { judgeStill } from '../tally/judge.ts'
import { insertDetections, keepEmbeddings } from './found-boxes.ts'
import { modelIdOf } from './models.ts'
import type { Ledger } from './open.ts'
import { lockMoved, lockPoint } from './point-lock.ts'
import { findLeft } from './rerun-stills.ts'
import { endRerunIfDone, findOpenRerun, MODELS_CHANGED, wantedOf } from './reruns.ts'
import { type Recorded, type Result, wholeColumns } from './results.ts'
import { readSettings } from './settings.ts'
import { retallyStill, toJudgedBox } from './sightings.ts'
import type { Tables } from './tables.ts'

/**
 * Replaces a still's boxes and all that is counted from them by the new result, in one transaction; what a person said
 * of it stands. A second look that fails leaves everything as it was and is not repeated in this re-run. Doing it twice
 * changes nothing.
 */
export async function recordAgain(ledger: Ledger, stillId: number, result: Result): Promise<Recorded> {
  const recorded = await ledger
    .transaction()
    .execute((tx) =>
      result.kind === 'unreadable'
        ? recordFailure(tx, stillId, result.reason)
        : replaceResult(tx, stillId, result),
    )
  if (recorded === 'recorded') await endRerunIfDone(ledger)
  return recorded
}

async function replaceResult(
  tx: Transaction<Tables>,
  stillId: number,
  result: Extract<Result, { kind: 'seen' }>,
): Promise<Recorded> {
  const taken = await takeLeft(tx, stillId)
  if (typeof taken === 'string') return taken
  const { still, rerun } = taken
  const modelId = await modelIdOf(tx, result.models)
  if (modelId !== rerun.model_id) {
    await tx
      .updateTable('reruns')
      .set({ state: 'stopped', last_error: MODELS_CHANGED })
      .where('id', '=', rerun.id)
      .execute()
    return 'already'
  }
  if (still.state === 'unreadable') {
    await tx
      .updateTable('cameras')
      .set((e) => ({ unreadable: e('unreadable', '-', 1) }))
      .where('id', '=', still.camera_id)
      .execute()
  }
  await tx
    .updateTable('stills')
    .set({
      state: 'done',
      reason: null,
      width: result.width,
      height: result.height,
      colourfulness: result.colourfulness ?? null,
      sharpness: result.sharpness ?? null,
      ...wholeColumns(result.whole, (view) => Buffer.from(view)),
      model_id: modelId,
    })
    .where('id', '=', stillId)
    .execute()
  const settings = await readSettings(tx)
  await tx.deleteFrom('detections').where('still_id', '=', stillId).execute()
  const [rows = []] = await insertDetections(tx, [{ stillId, found: result.found }])
  const { flagged } = judgeStill({
    found: rows.map(toJudgedBox),
    thresholds: settings.thresholds,
    feral: settings.feral,
  })
  if (flagged) await keepEmbeddings(tx, [{ rows, found: result.found }])
  await retallyStill(tx, still, settings)
  await addTo(tx, rerun.id, 'done')
  return 'recorded'
}

async function recordFailure(tx: Transaction<Tables>, stillId: number, reason: string): Promise<Recorded> {
  const taken = await takeLeft(tx, stillId)
  if (typeof taken === 'string') return taken
  await tx
    .insertInto('rerun_failures')
    .values({ rerun_id: taken.rerun.id, still_id: stillId, reason })
    .execute()
  await tx.updateTable('reruns').set({ last_error: reason }).where('id', '=', taken.rerun.id).execute()
  await addTo(tx, taken.rerun.id, 'failed')
  return 'recorded'
}

/** The still, its point locked, and the re-run that has it left; a word where there is nothing to write down. */
export async function takeLeft(tx: Transaction<Tables>, stillId: number) {
  const where = await tx.selectFrom('stills').select('point_id').where('id', '=', stillId).executeTakeFirst()
  if (where === undefined) return 'gone'
  await lockPoint(tx, where.point_id)
  const still = await tx
    .selectFrom('stills')
    .select(['id', 'state', 'camera_id', 'point_id', 'taken_at', 'clock_doubt'])
    .where('id', '=', stillId)
    .forUpdate()
    .executeTakeFirst()
  if (still === undefined) return 'gone'
  await lockMoved(tx, new Set([where.point_id]), [still])
  // A paused one too: what was in hand when it was paused is written down.
  const rerun = await findOpenRerun(tx)
  if (rerun === null || (await findLeft(tx, wantedOf(rerun), stillId)) === null) return 'already'
  return { still, rerun }
}

/** Last in the transaction, so that others wait for this row only a moment. */
export async function addTo(
  tx: Transaction<Tables>,
  rerunId: number,
  column: 'done' | 'failed',
): Promise<void> {
  await sql`update reruns set ${sql.ref(column)} = ${sql.ref(column)} + 1 where id = ${rerunId}`.execute(tx)
}
