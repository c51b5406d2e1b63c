/** Photos that people spoke of, as the evidence is told from them: of the latest words only, by the log's own order. */
import { type Selectable, sql } from 'kysely'
import { lightOf } from '../tally/light.ts'
import type { SpokenPhoto } from '../tally/model-evidence.ts'
import type { NightDate, Species, Tally } from '../words.ts'
import { byStill } from './by-still.ts'
import type { Ledger } from './open.ts'
import type { ModelsTable } from './tables.ts'

/** Some seasons of a large station's words; more would not make the shares much surer, only the page slower. */
const LATEST_WORDS = 5_000

export interface SpokenRow {
  readonly still_id: number
  readonly at: Date
  readonly counts: Tally
  readonly night: NightDate
  readonly camera_id: number
  readonly colourfulness: number | null
  readonly model_id: number
  readonly drawn: boolean
  /** The station's own namer, where one named its boxes, learned from this photo. */
  readonly learned: boolean
}

export type ModelRow = Selectable<ModelsTable>

export interface SpokenOfModel {
  readonly model: ModelRow
  readonly photos: readonly SpokenPhoto[]
  /** Photos left out because its namer learned from them: it would be tried on what it was taught. */
  readonly learnedFrom: number
}

/** By the models whose boxes are on the photos now, those that looked at most first. */
export async function readSpokenPhotos(ledger: Ledger): Promise<SpokenOfModel[]> {
  const rows = await readSpoken(ledger)
  const boxes = await readBoxes(
    ledger,
    rows.map(({ still_id }) => still_id),
  )
  const models = await ledger.selectFrom('models').selectAll().execute()
  return models
    .map((model) => {
      const ofModel = rows.filter(({ model_id }) => model_id === model.id)
      const unlearned = ofModel.filter(({ learned }) => !learned)
      return {
        model,
        learnedFrom: ofModel.length - unlearned.length,
        photos: unlearned.map((row) => ({
          cameraId: row.camera_id,
          light: lightOf(row.colourfulness),
          counts: row.counts,
          blind: row.drawn,
          boxes: boxes.get(row.still_id) ?? [],
        })),
      }
    })
    .filter(({ photos, learnedFrom }) => photos.length + learnedFrom > 0)
    .sort((a, b) => b.photos.length - a.photos.length)
}

/** Photos of which the count in the last word stands, among the latest words. `drawn`: for a blind look. */
export async function readSpoken(ledger: Ledger): Promise<SpokenRow[]> {
  const { rows } = await sql<SpokenRow>`
    with latest as (select id, still_id, at, verdict, counts from checks order by id desc limit ${LATEST_WORDS}),
      last as (select distinct on (still_id) * from latest order by still_id, id desc)
    select l.still_id, l.at, l.counts, s.night, s.camera_id, s.colourfulness, s.model_id,
      exists (select from audit_stills t where t.still_id = l.still_id) as drawn,
      exists (select from models m join namer_crops n on n.namer_id = m.station_namer
        where m.id = s.model_id and n.still_id = s.id) as learned
    from last l join stills s on s.id = l.still_id
    where l.verdict <> 'withdrawn' and l.counts is not null and s.state = 'done' and s.model_id is not null`.execute(
    ledger,
  )
  return rows
}

interface BoxRow {
  readonly still_id: number
  readonly species: Species
  readonly score: number
}

export async function readBoxes(ledger: Ledger, stillIds: readonly number[]) {
  const { rows } = await sql<BoxRow>`select still_id, species, score from detections
    where still_id = any(${stillIds}::bigint[])`.execute(ledger)
  return byStill(rows)
}
