/** Files of drop folders that are done with and still lie there. */
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface DroppedFile {
  /** Within the folder. */
  readonly path: string
  readonly bytes: number
  /** In whole milliseconds. */
  readonly modifiedAt: Instant
  /** Null: taken. */
  readonly reason: string | null
}

export async function listDroppedFiles(
  ledger: Ledger,
  sourceId: number,
): Promise<ReadonlyMap<string, DroppedFile>> {
  const rows = await ledger
    .selectFrom('dropped_files')
    .selectAll()
    .where('source_id', '=', sourceId)
    .execute()
  return new Map(
    rows.map(({ path, bytes, modified_at, reason }) => [
      path,
      { path, bytes, modifiedAt: toInstant(modified_at), reason },
    ]),
  )
}

export async function noteDroppedFile(
  ledger: Ledger,
  sourceId: number,
  { path, bytes, modifiedAt, reason, at }: DroppedFile & { readonly at: Instant },
): Promise<void> {
  const columns = { bytes, modified_at: toDate(modifiedAt), at: toDate(at), reason }
  await ledger
    .insertInto('dropped_files')
    .values({ source_id: sourceId, path, ...columns })
    .onConflict((conflict) => conflict.columns(['source_id', 'path']).doUpdateSet(columns))
    .execute()
}

/** Files that lie there no more. */
export async function forgetDroppedFiles(
  ledger: Ledger,
  sourceId: number,
  paths: readonly string[],
): Promise<void> {
  if (paths.length === 0) return
  await ledger
    .deleteFrom('dropped_files')
    .where('source_id', '=', sourceId)
    .where('path', 'in', paths)
    .execute()
}

export interface AsideFile {
  readonly path: string
  readonly reason: string
  readonly at: Date
}

/** The files set aside, the latest first, and how many there are in all. */
export async function listAsideFiles(
  ledger: Ledger,
  sourceId: number,
  most: number,
): Promise<{ readonly files: readonly AsideFile[]; readonly count: number }> {
  const aside = ledger
    .selectFrom('dropped_files')
    .where('source_id', '=', sourceId)
    .where('reason', 'is not', null)
  const [files, all] = await Promise.all([
    aside
      .select(['path', 'reason', 'at'])
      .orderBy('at', 'desc')
      .orderBy('path')
      .limit(most)
      .$narrowType<{ reason: string }>()
      .execute(),
    aside.select((e) => e.fn.countAll<number>().as('files')).executeTakeFirstOrThrow(),
  ])
  return { files, count: all.files }
}
