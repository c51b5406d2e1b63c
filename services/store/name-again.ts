/** Names a still's boxes anew from what is kept of them: no eye is needed, and nobody's word is touched. */
import { type Selectable, sql, type Transaction } from 'kysely'
import { bestSpecies, pooledScores } from '../../worker/eye/pool.ts'
import { fromHalf } from '../half.ts'
import { nameBoxes } from '../learning/name-boxes.ts'
import { addTo, takeLeft } from './again.ts'
import { readNamer } from './namer-in-use.ts'
import type { Ledger } from './open.ts'
import { endRerunIfDone } from './reruns.ts'
import type { Recorded } from './results.ts'
import { readSettings } from './settings.ts'
import { retallyStill } from './sightings.ts'
import type { DetectionsTable, ModelsTable, Tables } from './tables.ts'

/**
 * Towards the models of the open re-run, in one step with all that is counted from it. `needs a look`: other models looked
 * at it, or what a namer needs was not kept.
 */
export async function nameAgain(ledger: Ledger, stillId: number): Promise<Recorded | 'needs a look'> {
  const done = await ledger.transaction().execute(async (tx) => {
    const taken = await takeLeft(tx, stillId)
    if (typeof taken === 'string') return taken
    const { still, rerun } = taken
    const renamed = still.state === 'done' ? await newNames(tx, stillId, rerun.model_id) : null
    if (renamed === null) return 'needs a look'
    await writeNames(tx, renamed)
    await tx.updateTable('stills').set({ model_id: rerun.model_id }).where('id', '=', stillId).execute()
    await retallyStill(tx, still, await readSettings(tx))
    await addTo(tx, rerun.id, 'done')
    return 'recorded'
  })
  if (done === 'recorded') await endRerunIfDone(ledger)
  return done
}

type NewNames = Pick<
  Selectable<DetectionsTable>,
  'id' | 'species' | 'score' | 'runner_up' | 'namer' | 'base_namer' | 'own_kind'
>

/** A still's boxes as the models of row `modelId` name them; null where only a look could tell. */
async function newNames(
  tx: Transaction<Tables>,
  stillId: number,
  modelId: number,
): Promise<NewNames[] | null> {
  const present = await tx
    .selectFrom('models')
    .selectAll()
    .where('id', '=', modelId)
    .executeTakeFirstOrThrow()
  const looked = await tx
    .selectFrom('stills')
    .innerJoin('models', 'models.id', 'stills.model_id')
    .selectAll('models')
    .where('stills.id', '=', stillId)
    .executeTakeFirst()
  if (looked === undefined || !sameButForNamer(looked, present)) return null
  const boxes = await tx
    .selectFrom('detections')
    .leftJoin('embeddings', 'embeddings.detection_id', 'detections.id')
    .select(['id', 'detector', 'namer', 'base_namer', 'half'])
    .where('still_id', '=', stillId)
    .execute()
  const version = present.station_namer
  if (version === null)
    return boxes.map(({ id, detector, namer, base_namer }) => {
      const base = base_namer ?? namer
      const { runnerUp, ...best } = bestSpecies(pooledScores({ detector, namer: base }))
      return { id, ...best, runner_up: runnerUp, namer: base, base_namer: null, own_kind: null }
    })
  const known = boxes.flatMap(({ id, detector, namer, base_namer, half }) => {
    const scores = base_namer ?? namer
    return scores === null || half === null ? [] : [{ id, detector, scores, embedding: fromHalf(half) }]
  })
  if (known.length < boxes.length) return null
  const { namer } = await readNamer(tx, version)
  return nameBoxes(namer, known).map(({ runnerUp, ownKind, ...named }, i) => ({
    ...named,
    id: known[i]!.id,
    runner_up: runnerUp,
    base_namer: known[i]!.scores,
    own_kind: ownKind,
  }))
}

const sameButForNamer = (a: Selectable<ModelsTable>, b: Selectable<ModelsTable>): boolean =>
  a.detector_sha256 === b.detector_sha256 && a.namer_sha256 === b.namer_sha256

async function writeNames(tx: Transaction<Tables>, names: readonly NewNames[]): Promise<void> {
  if (names.length === 0) return
  await sql`update detections d set species = r.species, score = r.score, runner_up = r.runner_up, namer = r.namer,
      base_namer = r.base_namer, own_kind = r.own_kind
    from jsonb_to_recordset(${JSON.stringify(names)}::jsonb) as r(id bigint, species text, score real, runner_up real,
      namer real[], base_namer real[], own_kind text)
    where d.id = r.id`.execute(tx)
}
