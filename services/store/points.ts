/** Water points. */
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { PointKind } from '../words.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { PointsTable } from './tables.ts'
import { refuseTakenName } from './taken-name.ts'

export type PointRow = Selectable<PointsTable>

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

/** Fields of a point that are to be changed; one that is absent stays as it is. */
export type PointChange = { readonly [Field in keyof PointFields]?: PointFields[Field] | undefined }

/** A point by its name: all of it where it is new, and what to change where it is known. */
export interface PointToPut {
  readonly whenNew: PointFields
  readonly given: PointChange
}

/** All points in run order. */
export async function listPoints(ledger: Ledger): Promise<PointRow[]> {
  return await ledger.selectFrom('points').selectAll().orderBy('run_order').orderBy('id').execute()
}

export async function findPoint(ledger: LedgerOrTransaction, id: number): Promise<PointRow> {
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
 * Adds points, or changes what is given of those whose name is known already; all or none. A new point without an order
 * goes to the end of the run.
 */
export async function putPoints(
  ledger: Ledger,
  points: readonly PointToPut[],
): Promise<{ readonly added: PointRow[]; readonly changed: PointRow[] }> {
  return await ledger.transaction().execute(async (tx) => {
    const { last } = await tx
      .selectFrom('points')
      .select((e) => e.fn.coalesce(e.fn.max('run_order'), e.lit(0)).as('last'))
      .executeTakeFirstOrThrow()
    const added: PointRow[] = []
    const changed: PointRow[] = []
    for (const { whenNew, given } of points) {
      const known = await tx
        .selectFrom('points')
        .selectAll()
        .where('name', '=', whenNew.name)
        .executeTakeFirst()
      if (known === undefined) {
        const runOrder = whenNew.runOrder ?? last + 1 + added.length
        added.push(
          await tx
            .insertInto('points')
            .values(pointColumns({ ...whenNew, runOrder }))
            .returningAll()
            .executeTakeFirstOrThrow(),
        )
      } else changed.push(await setFields(tx, known, given))
    }
    return { added, changed }
  })
}

/** Adds one point; a name already taken is refused. */
export async function addPoint(ledger: Ledger, point: PointFields): Promise<PointRow> {
  await refuseTakenName(ledger, 'points', { name: point.name, exceptId: null })
  const { added } = await putPoints(ledger, [{ whenNew: point, given: point }])
  return added[0]!
}

/** Changes what is given of a point. */
export async function changePoint(ledger: Ledger, id: number, given: PointChange): Promise<PointRow> {
  const before = await findPoint(ledger, id)
  if (given.name !== undefined) await refuseTakenName(ledger, 'points', { name: given.name, exceptId: id })
  return await setFields(ledger, before, given)
}

async function setFields(
  ledger: LedgerOrTransaction,
  before: PointRow,
  given: PointChange,
): Promise<PointRow> {
  return await ledger
    .updateTable('points')
    .set(
      pointColumns({
        name: given.name ?? before.name,
        kind: given.kind ?? before.kind,
        lat: given.lat ?? before.lat,
        lon: given.lon ?? before.lon,
        hasYard: given.hasYard ?? before.has_yard,
        runOrder: given.runOrder ?? before.run_order,
        lowMarkPercent: given.lowMarkPercent ?? before.low_mark_percent,
        dryMarkPercent: given.dryMarkPercent ?? before.dry_mark_percent,
      }),
    )
    .where('id', '=', before.id)
    .returningAll()
    .executeTakeFirstOrThrow()
}

function pointColumns(point: PointFields & { readonly runOrder: number }) {
  return {
    name: point.name,
    kind: point.kind,
    lat: point.lat,
    lon: point.lon,
    has_yard: point.hasYard,
    run_order: point.runOrder,
    low_mark_percent: point.lowMarkPercent,
    dry_mark_percent: point.dryMarkPercent,
  }
}
