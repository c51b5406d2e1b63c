/** The target lists that were kept of programs, each with what was expected then: rows are only added. */
import type { Selectable } from 'kysely'
import type { KeptTargetList } from '../planning/kept-target-list.ts'
import type { TargetEdit } from '../planning/target-list.ts'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { TargetListVersionsTable } from './program-tables.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type TargetListVersionRow = Selectable<TargetListVersionsTable>

/** Who says it, and when. */
export interface Said {
  readonly at: Instant
  readonly who: string
}

/** A change of the list, and the list as it stood after it. */
export interface NextList {
  readonly version: number
  readonly edit: TargetEdit | null
  readonly list: KeptTargetList
}

/** The list of a program as it was last kept, with what was expected at each point. */
export async function targetListOf(
  ledger: LedgerOrTransaction,
  programId: number,
): Promise<TargetListVersionRow> {
  return found(
    await ledger
      .selectFrom('target_list_versions')
      .selectAll()
      .where('program_id', '=', programId)
      .orderBy('id', 'desc')
      .limit(1)
      .executeTakeFirst(),
    programId,
  )
}

/** The list of each program as it was last kept. */
export async function lastKeptLists(
  ledger: LedgerOrTransaction,
): Promise<ReadonlyMap<number, KeptTargetList>> {
  const rows = await ledger
    .selectFrom('target_list_versions')
    .select(['program_id', 'list'])
    .distinctOn('program_id')
    .orderBy('program_id')
    .orderBy('id', 'desc')
    .execute()
  return new Map(rows.map(({ program_id, list }) => [program_id, list]))
}

/** Every list that was kept of a program, in order. */
export async function targetListVersions(
  ledger: LedgerOrTransaction,
  programId: number,
): Promise<TargetListVersionRow[]> {
  return await ledger
    .selectFrom('target_list_versions')
    .selectAll()
    .where('program_id', '=', programId)
    .orderBy('id')
    .execute()
}

/** Adds a version; the program is locked by the caller. */
export async function keepList(
  tx: LedgerOrTransaction,
  programId: number,
  { next, said }: { readonly next: NextList; readonly said: Said },
): Promise<TargetListVersionRow> {
  return await tx
    .insertInto('target_list_versions')
    .values({
      program_id: programId,
      version: next.version,
      at: toDate(said.at),
      who: said.who,
      edit: next.edit && JSON.stringify(next.edit),
      list: JSON.stringify(next.list),
    })
    .returningAll()
    .executeTakeFirstOrThrow()
}

/** @throws Refusal where there is no such program */
export function found<Row>(row: Row | undefined, id: number): Row {
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `There is no program ${id}.`,
    field: 'id',
    remedy: 'Open Programs and choose one from the list.',
  })
}
