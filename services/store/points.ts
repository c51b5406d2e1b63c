/** Water points and their dated states. */
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant, PointKind, StateKind } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import type { PointStatesTable, PointsTable } from './tables.ts'
import { refuseTakenName } from './taken-name.ts'

export type PointRow = Selectable<PointsTable>
export type PointStateRow = Selectable<PointStatesTable>

export interface PointFields {
  readonly name: string
  readonly kind: PointKind
  readonly lat: number
  readonly lon: number
  readonly hasYard: boolean
  readonly runOrder?: number | undefined
  readonly lowMarkPercent: number
  readonly dryMarkPercent: number
}

/** All points in run order. */
export async function listPoints(ledger: Ledger): Promise<PointRow[]> {
  return await ledger.selectFrom('points').selectAll().orderBy('run_order').orderBy('id').execute()
}

export async function findPoint(ledger: Ledger, id: number): Promise<PointRow> {
  const row = await ledger.selectFrom('points').selectAll().where('id', '=', id).executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `There is no point ${id}.`,
    field: 'id',
    remedy: 'Open the Water run and choose a point from it.',
  })
}

/**
 * Adds points, or changes those whose name is known already; all or none. A point without an order goes to the end of
 * the run.
 */
export async function putPoints(
  ledger: Ledger,
  points: readonly PointFields[],
): Promise<{ readonly added: PointRow[]; readonly changed: PointRow[] }> {
  return await ledger.transaction().execute(async (tx) => {
    const { last } = await tx
      .selectFrom('points')
      .select((e) => e.fn.coalesce(e.fn.max('run_order'), e.lit(0)).as('last'))
      .executeTakeFirstOrThrow()
    const added: PointRow[] = []
    const changed: PointRow[] = []
    for (const point of points) {
      const known = await tx
        .selectFrom('points')
        .selectAll()
        .where('name', '=', point.name)
        .executeTakeFirst()
      const row = {
        name: point.name,
        kind: point.kind,
        lat: point.lat,
        lon: point.lon,
        has_yard: point.hasYard,
        low_mark_percent: point.lowMarkPercent,
        dry_mark_percent: point.dryMarkPercent,
      }
      if (known === undefined) {
        const run_order = point.runOrder ?? last + 1 + added.length
        added.push(
          await tx
            .insertInto('points')
            .values({ ...row, run_order })
            .returningAll()
            .executeTakeFirstOrThrow(),
        )
      } else {
        const run_order = point.runOrder ?? known.run_order
        changed.push(
          await tx
            .updateTable('points')
            .set({ ...row, run_order })
            .where('id', '=', known.id)
            .returningAll()
            .executeTakeFirstOrThrow(),
        )
      }
    }
    return { added, changed }
  })
}

/** Adds one point; a name already taken is refused. */
export async function addPoint(ledger: Ledger, point: PointFields): Promise<PointRow> {
  await refuseTakenName(ledger, 'points', { name: point.name, exceptId: null })
  const { added } = await putPoints(ledger, [point])
  return added[0]!
}

export async function changePoint(
  ledger: Ledger,
  id: number,
  change: { readonly [Field in keyof PointFields]?: PointFields[Field] | undefined },
): Promise<PointRow> {
  const before = await findPoint(ledger, id)
  if (change.name !== undefined) await refuseTakenName(ledger, 'points', { name: change.name, exceptId: id })
  return await ledger
    .updateTable('points')
    .set({
      name: change.name ?? before.name,
      kind: change.kind ?? before.kind,
      lat: change.lat ?? before.lat,
      lon: change.lon ?? before.lon,
      has_yard: change.hasYard ?? before.has_yard,
      run_order: change.runOrder ?? before.run_order,
      low_mark_percent: change.lowMarkPercent ?? before.low_mark_percent,
      dry_mark_percent: change.dryMarkPercent ?? before.dry_mark_percent,
    })
    .where('id', '=', id)
    .returningAll()
    .executeTakeFirstOrThrow()
}

/** Adds a dated state: what a tap or a reading said. States are never changed; the latest of its sort stands. */
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
