/** Writes down the boxes the eye found on stills, and the embeddings of those that are worth a look. */
import { type Selectable, sql, type Transaction } from 'kysely'
import { toHalf } from '../half.ts'
import type { Found } from '../words.ts'
import type { DetectionsTable, Tables } from './tables.ts'

/** A box with the pooled score of its second-best species, which only the eye can work out. */
export type FoundWithRunnerUp = Found & {
  readonly runnerUp: number
  /** What the models' namer said, where the station's own has spoken. */
  readonly baseNamer?: readonly number[]
  readonly ownKind?: string | null
}

/** Writes stills' boxes. @returns their rows, in their order, with the numbers as the ledger keeps them */
export async function insertDetections(
  tx: Transaction<Tables>,
  stills: ReadonlyArray<{ readonly stillId: number; readonly found: readonly FoundWithRunnerUp[] }>,
): Promise<Array<Array<Selectable<DetectionsTable>>>> {
  const boxes = stills.flatMap(({ stillId, found }) =>
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
      base_namer: one.baseNamer ?? null,
      own_kind: one.ownKind ?? null,
    })),
  )
  if (boxes.length === 0) return stills.map(() => [])
  // One text whatever their number: it is planned once.
  const { rows } = await sql<Selectable<DetectionsTable>>`
    insert into detections (still_id, species, score, runner_up, x0, y0, x1, y1, detector, namer, base_namer, own_kind)
    select r.* from jsonb_to_recordset(${JSON.stringify(boxes)}::jsonb) as r(still_id bigint, species text,
      score real, runner_up real, x0 real, y0 real, x1 real, y1 real, detector real[], namer real[], base_namer real[],
      own_kind text)
    returning *`.execute(tx)
  const ofStill = new Map(stills.map(({ stillId }) => [stillId, [] as typeof rows]))
  for (const row of rows.sort((a, b) => a.id - b.id)) ofStill.get(row.still_id)!.push(row)
  return stills.map(({ stillId }) => ofStill.get(stillId)!)
}

/** Where a still is worth a look, for a station's own animals to be learned from. */
export async function keepEmbeddings(
  tx: Transaction<Tables>,
  stills: ReadonlyArray<{
    readonly rows: ReadonlyArray<{ readonly id: number }>
    readonly found: readonly FoundWithRunnerUp[]
  }>,
): Promise<void> {
  const embeddings = stills.flatMap(({ rows, found }) =>
    found.flatMap(({ embedding }, i) =>
      embedding === null ? [] : [{ id: rows[i]!.id, half: toHalf(embedding) }],
    ),
  )
  if (embeddings.length === 0) return
  await sql`insert into embeddings (detection_id, half)
    select * from unnest(${embeddings.map(({ id }) => id)}::bigint[],
      ${embeddings.map(({ half }) => half)}::bytea[])`.execute(tx)
}
