/** The owner's figures for a muster: every version is kept, the latest stands. */
import { sql } from 'kysely'
import type { MusterFigures } from '../planning/muster-figures.ts'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface MusterVersion {
  /** From 1 on. */
  readonly version: number
  readonly at: Instant
  readonly who: string
  readonly note: string | null
}

/** The figures of that version, else the latest; null before any were given. @throws Refusal for one that there is not */
export async function readMusterFigures(
  ledger: Ledger,
  version: number | undefined,
): Promise<(MusterVersion & { readonly figures: MusterFigures }) | null> {
  const row = await ledger
    .selectFrom('muster_versions')
    .selectAll()
    .$if(version !== undefined, (rows) => rows.where('version', '=', version!))
    .orderBy('version', 'desc')
    .limit(1)
    .executeTakeFirst()
  if (row !== undefined) return { ...row, at: toInstant(row.at) }
  if (version === undefined) return null
  throw new Refusal({
    kind: 'not found',
    detail: `There is no version ${version} of the muster's figures.`,
    field: 'version',
    remedy: 'Leave the version out for the figures that stand.',
  })
}

const MOST_LISTED = 50

/** Who changed the figures and when, latest first. */
export async function listMusterVersions(ledger: Ledger): Promise<MusterVersion[]> {
  const rows = await ledger
    .selectFrom('muster_versions')
    .select(['version', 'at', 'who', 'note'])
    .orderBy('version', 'desc')
    .limit(MOST_LISTED)
    .execute()
  return rows.map((row) => ({ ...row, at: toInstant(row.at) }))
}

/** Keeps new figures beside the old ones. @throws Refusal for a point there is not, or figures made on ones that no longer stand */
export async function keepMusterFigures(
  ledger: Ledger,
  given: {
    /** The version they were made on; 0: none was there. */
    readonly madeOn: number
    readonly figures: MusterFigures
    readonly at: Instant
    readonly who: string
    readonly note: string | null
  },
): Promise<number> {
  return await ledger.transaction().execute(async (tx) => {
    // Two that save at once take turns, and the second is told.
    await sql`lock table muster_versions in share row exclusive mode`.execute(tx)
    const { last } = await tx
      .selectFrom('muster_versions')
      .select((e) => e.fn.coalesce(e.fn.max('version'), e.lit(0)).as('last'))
      .executeTakeFirstOrThrow()
    if (last !== given.madeOn)
      throw new Refusal({
        kind: 'conflict',
        detail: `The figures are at version ${last}, and these were made on version ${given.madeOn}.`,
        field: 'madeOn',
        remedy: 'Load the muster again: somebody has changed its figures since.',
      })
    await refuseUnknownPoints(tx, given.figures)
    const version = last + 1
    await tx
      .insertInto('muster_versions')
      .values({
        version,
        at: new Date(given.at),
        who: given.who,
        note: given.note,
        figures: JSON.stringify(given.figures),
      })
      .execute()
    return version
  })
}

async function refuseUnknownPoints(
  ledger: LedgerOrTransaction,
  { points, order }: MusterFigures,
): Promise<void> {
  const known = new Set((await ledger.selectFrom('points').select('id').execute()).map(({ id }) => id))
  const at = points.findIndex(({ pointId }) => !known.has(pointId))
  const inOrder = order.findIndex((id) => !known.has(id))
  if (at < 0 && inOrder < 0) return
  throw new Refusal({
    kind: 'bad input',
    detail: `There is no point ${at < 0 ? order[inOrder] : points[at]!.pointId}.`,
    field: at < 0 ? `figures.order.${inOrder}` : `figures.points.${at}.pointId`,
    remedy: 'Give the number of a point from GET /api/points.',
  })
}
