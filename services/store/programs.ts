/** Control programs: what stands of each, and everything that was said of it. */
import type { Selectable } from 'kysely'
import type { KeptTargetList } from '../planning/kept-target-list.ts'
import { toDate } from './instants.ts'
import {
  found,
  keepList,
  type NextList,
  type Said,
  type TargetListVersionRow,
  targetListVersions,
} from './kept-lists.ts'
import type { Ledger } from './open.ts'
import type { ProgramFields, ProgramsTable, ProgramWord, ProgramWordsTable } from './program-tables.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type ProgramRow = Selectable<ProgramsTable>
export type ProgramWordRow = Selectable<ProgramWordsTable>

/** All programs, finished and dropped ones too: the latest window first. */
export async function listPrograms(ledger: LedgerOrTransaction): Promise<ProgramRow[]> {
  return await ledger
    .selectFrom('programs')
    .selectAll()
    .orderBy('from_night', 'desc')
    .orderBy('id', 'desc')
    .execute()
}

/** @throws Refusal where there is none */
export async function findProgram(ledger: LedgerOrTransaction, id: number): Promise<ProgramRow> {
  return found(await ledger.selectFrom('programs').selectAll().where('id', '=', id).executeTakeFirst(), id)
}

/** What was said of a program, in order. */
export async function programWords(
  ledger: LedgerOrTransaction,
  programId: number,
): Promise<ProgramWordRow[]> {
  return await ledger
    .selectFrom('program_words')
    .selectAll()
    .where('program_id', '=', programId)
    .orderBy('id')
    .execute()
}

/** A new program with its first list. */
export async function makeProgram(
  ledger: Ledger,
  fields: ProgramFields,
  { said, list }: { readonly said: Said; readonly list: KeptTargetList },
): Promise<ProgramRow> {
  return await ledger.transaction().execute(async (tx) => {
    const row = await tx
      .insertInto('programs')
      .values({ ...columnsOf(fields), made_at: toDate(said.at), who: said.who })
      .returningAll()
      .executeTakeFirstOrThrow()
    await keepWord(tx, row, { word: 'made', said })
    await keepList(tx, row.id, { next: { version: 0, edit: null, list }, said })
    return row
  })
}

/** A program as it stands, and every list that was kept of it: what is changed under its lock. */
export interface ProgramBefore {
  readonly program: ProgramRow
  readonly versions: readonly TargetListVersionRow[]
}

/**
 * Says something of a program: changes what stands, and keeps the word and the list as it stands. `next` is told what
 * stands, under the program's lock, and may refuse.
 * @throws what `next` throws; Refusal where there is no such program
 */
export async function sayOfProgram(
  ledger: Ledger,
  id: number,
  {
    word,
    said,
    next,
  }: {
    readonly word: Exclude<ProgramWord, 'made'>
    readonly said: Said
    readonly next: (before: ProgramBefore) => {
      readonly fields: ProgramFields
      readonly list: KeptTargetList
    }
  },
): Promise<ProgramRow> {
  return await ledger.transaction().execute(async (tx) => {
    const before = await lockProgram(tx, id)
    const { fields, list } = next(before)
    const row = await tx
      .updateTable('programs')
      .set({
        ...columnsOf(fields),
        ...(word === 'finished' && { finished_at: toDate(said.at) }),
        ...(word === 'dropped' && { dropped_at: toDate(said.at) }),
        ...(word === 'taken up again' && { finished_at: null, dropped_at: null }),
      })
      .where('id', '=', id)
      .returningAll()
      .executeTakeFirstOrThrow()
    await keepWord(tx, row, { word, said })
    const { version } = before.versions.at(-1)!
    await keepList(tx, id, { next: { version, edit: null, list }, said })
    return row
  })
}

/**
 * Adds a version of the list. `next` is told what stands, under the program's lock, and may refuse.
 * @throws what `next` throws; Refusal where there is no such program
 */
export async function changeTargetList(
  ledger: Ledger,
  programId: number,
  { said, next }: { readonly said: Said; readonly next: (before: ProgramBefore) => NextList },
): Promise<TargetListVersionRow> {
  return await ledger.transaction().execute(async (tx) => {
    return await keepList(tx, programId, { next: next(await lockProgram(tx, programId)), said })
  })
}

async function lockProgram(tx: LedgerOrTransaction, id: number): Promise<ProgramBefore> {
  const program = found(
    await tx.selectFrom('programs').selectAll().where('id', '=', id).forUpdate().executeTakeFirst(),
    id,
  )
  return { program, versions: await targetListVersions(tx, id) }
}

async function keepWord(
  tx: LedgerOrTransaction,
  row: ProgramRow,
  { word, said }: { readonly word: ProgramWord; readonly said: Said },
): Promise<void> {
  await tx
    .insertInto('program_words')
    .values({
      program_id: row.id,
      at: toDate(said.at),
      who: said.who,
      word,
      said: JSON.stringify(fieldsOf(row)),
    })
    .execute()
}

export const fieldsOf = (row: ProgramRow): ProgramFields => ({
  name: row.name,
  species: row.species,
  method: row.method,
  fromNight: row.from_night,
  toNight: row.to_night,
  note: row.note,
})

const columnsOf = (fields: ProgramFields) => ({
  name: fields.name,
  species: fields.species,
  method: fields.method,
  from_night: fields.fromNight,
  to_night: fields.toNight,
  note: fields.note,
})
