/** What people's standing words say of single boxes, with what the models saw of them: what a namer learns from. */
import { sql } from 'kysely'
import { fromHalf } from '../half.ts'
import type { CheckedCrop } from '../learning/crop.ts'
import { type Kind, sixNameOf } from '../learning/kinds.ts'
import { type LabelledBox, labelsOf } from '../learning/labels.ts'
import type { DrawnBox, ModelIdentity, NightDate, Others, Tally, ThresholdsBySpecies } from '../words.ts'
import { joinStandingCount, labelledBoxesOf } from './counted-photos.ts'
import type { Ledger } from './open.ts'

/** The latest words are learned from; more would make learning slower, not better. */
const MOST_STILLS = 10_000
const CROPS_AT_ONCE = 500

/** A box with its truth, and where it came from. */
export interface LabelledCrop {
  readonly detectionId: number
  readonly stillId: number
  readonly checkId: number
  readonly cameraId: number
  readonly night: NightDate
  readonly kind: Kind
}

interface CheckedStill {
  readonly stillId: number
  readonly checkId: number
  readonly cameraId: number
  readonly night: NightDate
  readonly counts: Tally
  readonly others: Others | null
  readonly drawn: readonly DrawnBox[] | null
  readonly boxes: readonly LabelledBox[]
}

/**
 * Boxes with a truth, of stills that these models looked at and of which embeddings are kept; the latest word first. A
 * kind that is not among `ownKinds` is "other". Drawn boxes have no embedding, so they teach nothing here.
 */
export async function listLabelledCrops(
  ledger: Ledger,
  {
    models,
    marks,
    ownKinds,
  }: {
    readonly models: ModelIdentity
    readonly marks: ThresholdsBySpecies
    readonly ownKinds: readonly string[]
  },
): Promise<LabelledCrop[]> {
  const { rows } = await sql<CheckedStill>`
    select s.id as "stillId", c.id as "checkId", s.camera_id as "cameraId", s.night, c.counts, c.others, c.boxes as drawn,
      ${labelledBoxesOf(sql.ref('s.id'))} as boxes
    from stills s
    join models m on m.id = s.model_id and m.detector_sha256 = ${models.detectorSha256}
      and m.namer_sha256 = ${models.namerSha256}
    ${joinStandingCount(sql.ref('s.id'))}
    where s.checked and s.state = 'done' and exists (
      select from detections d join embeddings e on e.detection_id = d.id where d.still_id = s.id)
    order by c.id desc limit ${MOST_STILLS}`.execute(ledger)
  return rows.flatMap(({ boxes, counts, others, drawn, ...still }) =>
    labelsOf({ counts, others, drawn: drawn ?? [] }, boxes, marks).map(({ boxId, kind }) => ({
      detectionId: boxId,
      stillId: still.stillId,
      checkId: still.checkId,
      cameraId: still.cameraId,
      night: still.night,
      kind: ownKinds.includes(kind.toLowerCase()) ? kind.toLowerCase() : sixNameOf(kind),
    })),
  )
}

/** What the models saw of labelled boxes, in their order; those whose embedding is gone meanwhile are left out. */
export async function readCheckedCrops(
  ledger: Ledger,
  labelled: readonly LabelledCrop[],
): Promise<Array<{ readonly label: LabelledCrop; readonly crop: CheckedCrop }>> {
  const crops = []
  for (let from = 0; from < labelled.length; from += CROPS_AT_ONCE) {
    const part = labelled.slice(from, from + CROPS_AT_ONCE)
    const { rows } = await sql<{ id: number; half: Buffer; detector: number[]; scores: number[] }>`
      select d.id, e.half, d.detector, coalesce(d.base_namer, d.namer) as scores
      from detections d join embeddings e on e.detection_id = d.id
      where d.id = any(${part.map(({ detectionId }) => detectionId)}::bigint[]) and d.namer is not null`.execute(
      ledger,
    )
    const seen = new Map(rows.map((row) => [row.id, row]))
    for (const label of part) {
      const row = seen.get(label.detectionId)
      if (row === undefined) continue
      const { detector, scores } = row
      const { kind, night } = label
      const embedding = fromHalf(row.half)
      crops.push({
        label,
        crop: { kind, night, camera: String(label.cameraId), detector, scores, embedding },
      })
    }
  }
  return crops
}
