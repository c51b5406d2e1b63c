/** Dated states of points: what a tap or a reading said of the water, the trap, the rain. */
import type { Selectable } from 'kysely'
import type { Instant, StateKind } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { findPoint } from './points.ts'
import type { PointStatesTable } from './tables.ts'

export type PointStateRow = Selectable<PointStatesTable>

/** Adds a state. States are never changed; the latest of its sort stands. */
export async function addPointState(
  ledger: Ledger,
  state: {
    readonly pointId: number
    readonly kind: StateKind
    readonly at: Instant
    readonly source: 'tap' | 'reading'
    readonly levelPercent: number | null
    readonly note: string | null
  },
): Promise<PointStateRow> {
  await findPoint(ledger, state.pointId)
  return await ledger
    .insertInto('point_states')
    .values({
      point_id: state.pointId,
      kind: state.kind,
      at: toDate(state.at),
      source: state.source,
      level_percent: state.levelPercent,
      note: state.note,
    })
    .returningAll()
    .executeTakeFirstOrThrow()
}

export async function listPointStates(
  ledger: Ledger,
  pointId: number,
  limit: number,
): Promise<PointStateRow[]> {
  return await ledger
    .selectFrom('point_states')
    .selectAll()
    .where('point_id', '=', pointId)
    .orderBy('at', 'desc')
    .orderBy('id', 'desc')
    .limit(limit)
    .execute()
}
