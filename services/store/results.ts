/** Writes down what the eye saw: one transaction a still, and doing it twice leaves one result. */
import { Float16Array } from '@petamoriken/float16'
import { type Selectable, sql, type Transaction } from 'kysely'
import { gapFor } from '../tally/visits.ts'
import type { Found, Looked } from '../words.ts'
import { modelIdOf } from './models.ts'
import type { Ledger } from './open.ts'
import { lockForResult } from './point-lock.ts'
import { readSettings } from './settings.ts'
import { addSightings, lastWordOn, standingOf, standingWord, toJudgedBox } from './sightings.ts'
import type { DetectionsTable, Tables } from './tables.ts'
import { slowestScheduleAt } from './visits.ts'

/** A box with the pooled score of its second-best species, which only the eye can work out. */
export type FoundWithRunnerUp = Found & { readonly runnerUp: number }

export type Result =
  | (Omit<Extract<Looked, { kind: 'seen' }>, 'found'> & { readonly found: readonly FoundWithRunnerUp[] })
  | Extract<Looked, { kind: 'unreadable' }>

/** `recorded`: now written. `already`: some worker had written it. `gone`: a person removed the still meanwhile. */
export type Recorded = 'recorded' | 'already' | 'gone'

export async function recordResult(ledger: Ledger, stillId: number, result: Result): Promise<Recorded> {
  return await ledger.transaction().execute(async (tx) => {
    if (!(await lockForResult(tx, stillId))) return 'gone'
    const still = await tx
      .selectFrom('stills')
      .select(['id', 'state', 'camera_id', 'point_id', 'taken_at', 'clock_doubt'])
      // Asked along with it: each question of its own costs as much as this one.
      .select([
        lastWordOn(sql.ref('stills.id')).as('word'),
        slowestScheduleAt(sql.ref('stills.point_id')).as('slowest'),
      ])
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
    const check = standingWord(still.word)
    const rows = await insertDetections(tx, stillId, result.found)
    const { sightings, ...marks } = standingOf(still, { boxes: rows.map(toJudgedBox), check }, settings)
    if (marks.flagged) await keepEmbeddings(tx, rows, result.found)
    await tx
      .updateTable('stills')
      .set({
        ...marks,
        state: 'done',
        width: result.width,
        height: result.height,
        model_id: await modelIdOf(tx, result.models),
      })
      .where('id', '=', stillId)
      .execute()
    const gapMinutes = gapFor(settings.visitGapMinutes, still.slowest)
    await addSightings(tx, still, { sightings, zone: settings.zone, gapMinutes })
    return 'recorded'
  })
}

/** Writes a still's boxes. @returns their rows, in their order, with the numbers as the ledger keeps them */
export async function insertDetections(
  tx: Transaction<Tables>,
  stillId: number,
  found: readonly FoundWithRunnerUp[],
): Promise<Array<Selectable<DetectionsTable>>> {
  if (found.length === 0) return []
  return await tx
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
    .returningAll()
    .execute()
}

/** Where a still is worth a look, for a station's own animals to be learned from. */
export async function keepEmbeddings(
  tx: Transaction<Tables>,
  rows: ReadonlyArray<{ readonly id: number }>,
  found: readonly FoundWithRunnerUp[],
): Promise<void> {
  const embeddings = found.flatMap((one, index) =>
    one.embedding === null ? [] : [{ detection_id: rows[index]!.id, half: toHalf(one.embedding) }],
  )
  if (embeddings.length > 0) await tx.insertInto('embeddings').values(embeddings).execute()
}

function toHalf(embedding: Float32Array): Buffer {
  const half = new Float16Array(embedding)
  return Buffer.from(half.buffer, half.byteOffset, half.byteLength)
}
