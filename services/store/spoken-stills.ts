/** Stills as they stand when a person speaks of them. */
import type { Selectable, Transaction } from 'kysely'
import type { JudgedBox } from '../tally/judge.ts'
import type { WholeWord } from '../tally/whole-word.ts'
import type { NightDate } from '../words.ts'
import { lastChecksOn, standingOfRow } from './check-rows.ts'
import { toJudgedBox } from './sightings.ts'
import type { ModelsTable, StillState, Tables } from './tables.ts'

export interface SpokenStill {
  readonly id: number
  readonly point_id: number
  readonly taken_at: Date
  readonly clock_doubt: string | null
  readonly night: NightDate
  readonly state: StillState
  readonly width: number | null
  readonly height: number | null
  readonly boxes: readonly JudgedBox[]
  readonly model: Selectable<ModelsTable> | null
  readonly standing: WholeWord | null
}

/** The stills as they stand, each with its boxes, its models and the last word on it. */
export async function readSpokenStills(
  tx: Transaction<Tables>,
  ids: readonly number[],
): Promise<ReadonlyMap<number, SpokenStill>> {
  const stills = await tx
    .selectFrom('stills')
    .select(['id', 'point_id', 'taken_at', 'clock_doubt', 'night', 'state', 'model_id', 'width', 'height'])
    .where('id', 'in', ids)
    .execute()
  const detections = await tx.selectFrom('detections').selectAll().where('still_id', 'in', ids).execute()
  const checks = await lastChecksOn(tx, ids)
  const modelIds = [...new Set(stills.flatMap(({ model_id: id }) => (id === null ? [] : [id])))]
  const models =
    modelIds.length === 0
      ? []
      : await tx.selectFrom('models').selectAll().where('id', 'in', modelIds).execute()
  const last = new Map(checks.map((row) => [row.stillId, standingOfRow(row)]))
  const boxes = new Map<number, JudgedBox[]>(ids.map((id) => [id, []]))
  for (const row of detections) boxes.get(row.still_id)?.push(toJudgedBox(row))
  return new Map(
    stills.map((still) => [
      still.id,
      {
        ...still,
        boxes: boxes.get(still.id) ?? [],
        model: models.find(({ id }) => id === still.model_id) ?? null,
        standing: last.get(still.id) ?? null,
      },
    ]),
  )
}
