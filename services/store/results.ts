/** Writes down what the eye saw: one transaction a still, and doing it twice leaves one result. */
import { Float16Array } from '@petamoriken/float16'
import type { Transaction } from 'kysely'
import { judgeStill } from '../tally/judge.ts'
import type { Found, Looked } from '../words.ts'
import { modelIdOf } from './models.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { readSettings } from './settings.ts'
import { retallyStill } from './sightings.ts'
import type { Tables } from './tables.ts'

/** A box with the pooled score of its second-best species, which only the eye can work out. */
export type FoundWithRunnerUp = Found & { readonly runnerUp: number }

export type Result =
  | (Omit<Extract<Looked, { kind: 'seen' }>, 'found'> & { readonly found: readonly FoundWithRunnerUp[] })
  | Extract<Looked, { kind: 'unreadable' }>

/** `recorded`: now written. `already`: some worker had written it. `gone`: a person removed the still meanwhile. */
export type Recorded = 'recorded' | 'already' | 'gone'

export async function recordResult(ledger: Ledger, stillId: number, result: Result): Promise<Recorded> {
  return await ledger.transaction().execute(async (tx) => {
    const where = await tx
      .selectFrom('stills')
      .select('point_id')
      .where('id', '=', stillId)
      .executeTakeFirst()
    if (where === undefined) return 'gone'
    await lockPoint(tx, where.point_id)
    const still = await tx
      .selectFrom('stills')
      .select(['id', 'state', 'camera_id', 'point_id', 'taken_at', 'clock_doubt'])
      .where('id', '=', stillId)
      .forUpdate()
      .executeTakeFirst()
    if (still === undefined) return 'gone'
    if (still.state !== 'received') return 'already'
    if (result.kind === 'unreadable') {
      await tx
        .updateTable('stills')
        .set({ state: 'unreadable', reason: result.reason })
        .where('id', '=', stillId)
        .execute()
      await tx
        .updateTable('cameras')
        .set((e) => ({ unreadable: e('unreadable', '+', 1) }))
        .where('id', '=', still.camera_id)
        .execute()
      return 'recorded'
    }
    const settings = await readSettings(tx)
    await tx
      .updateTable('stills')
      .set({
        state: 'done',
        width: result.width,
        height: result.height,
        model_id: await modelIdOf(tx, result.models),
      })
      .where('id', '=', stillId)
      .execute()
    const { flagged } = judgeStill({
      found: result.found,
      thresholds: settings.thresholds,
      feral: settings.feral,
    })
    await insertDetections(tx, stillId, { found: result.found, keepEmbeddings: flagged })
    await retallyStill(tx, still, settings)
    return 'recorded'
  })
}

/** Writes a still's boxes; embeddings are kept where it is worth a look. */
export async function insertDetections(
  tx: Transaction<Tables>,
  stillId: number,
  { found, keepEmbeddings }: { found: readonly FoundWithRunnerUp[]; keepEmbeddings: boolean },
): Promise<void> {
  if (found.length === 0) return
  const ids = await tx
    .insertInto('detections')
    .values(
      found.map((one) => ({
        still_id: stillId,
        species: one.species,
        score: one.score,
        runner_up: one.runnerUp,
        x0: one.box[0],
        y0: one.box[1],
        x1: one.box[2],
        y1: one.box[3],
        detector: one.detector,
        namer: one.namer,
      })),
    )
    .returning('id')
    .execute()
  if (!keepEmbeddings) return
  const embeddings = found.flatMap((one, index) =>
    one.embedding === null ? [] : [{ detection_id: ids[index]!.id, half: toHalf(one.embedding) }],
  )
  if (embeddings.length > 0) await tx.insertInto('embeddings').values(embeddings).execute()
}

function toHalf(embedding: Float32Array): Buffer {
  const half = new Float16Array(embedding)
  return Buffer.from(half.buffer, half.byteOffset, half.byteLength)
}
