/** Counts from notebooks: kept by file, never changed, withdrawn as a whole. No kept count of photos is touched by them. */
import { type Selectable, sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant, NightDate, Species } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import type { PastCountFilesTable, PastCountsTable } from './past-count-tables.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type PastCountFileRow = Selectable<PastCountFilesTable>
export type PastCountRow = Selectable<PastCountsTable> & { readonly file_name: string }
export type PastCountFileView = PastCountFileRow & {
  readonly points: number
  readonly first_night: NightDate
  readonly last_night: NightDate
}

export interface NewPastCount {
  /** As a person counts rows. */
  readonly row: number
  readonly pointId: number
  readonly night: NightDate
  readonly species: Species
  readonly head: number
  readonly visits: number | null
  readonly watched: number | null
  readonly note: string | null
}

export interface NewPastCountFile {
  readonly name: string
  readonly sha256: Buffer
  readonly who: string
  readonly at: Instant
  readonly counts: readonly NewPastCount[]
}

const ROWS_AT_ONCE = 2_000

/** All of the file or nothing. The same file again is the same file. @throws Refusal where another file tells of a night too */
export async function addPastCounts(
  ledger: Ledger,
  file: NewPastCountFile,
): Promise<{ readonly file: PastCountFileRow; readonly known: boolean }> {
  return await ledger.transaction().execute(async (tx) => {
    // Two files at once could tell of the same night, each without seeing the other.
    await sql`lock table past_count_files in exclusive mode`.execute(tx)
    const known = await tx
      .selectFrom('past_count_files')
      .selectAll()
      .where('sha256', '=', file.sha256)
      .where('withdrawn_at', 'is', null)
      .executeTakeFirst()
    if (known !== undefined) return { file: known, known: true }
    const row = await tx
      .insertInto('past_count_files')
      .values({
        name: file.name,
        sha256: file.sha256,
        who: file.who,
        at: toDate(file.at),
        counts: file.counts.length,
        withdrawn_at: null,
        withdrawn_by: null,
      })
      .returningAll()
      .executeTakeFirstOrThrow()
    await refuseToldTwice(tx, file.counts)
    for (let at = 0; at < file.counts.length; at += ROWS_AT_ONCE) {
      await tx
        .insertInto('past_counts')
        .values(
          file.counts.slice(at, at + ROWS_AT_ONCE).map((count) => ({
            file_id: row.id,
            row_number: count.row,
            point_id: count.pointId,
            night: count.night,
            species: count.species,
            head: count.head,
            visits: count.visits,
            watched: count.watched,
            note: count.note,
          })),
        )
        .execute()
    }
    return { file: row, known: false }
  })
}

/** Files that stand, and those withdrawn, the latest first. */
export async function listPastCountFiles(ledger: Ledger): Promise<PastCountFileView[]> {
  return await ledger
    .selectFrom('past_count_files as f')
    .innerJoin('past_counts as c', 'c.file_id', 'f.id')
    .selectAll('f')
    .select((e) => [
      sql<number>`count(distinct c.point_id)::int`.as('points'),
      e.fn.min<NightDate>('c.night').as('first_night'),
      e.fn.max<NightDate>('c.night').as('last_night'),
    ])
    .groupBy('f.id')
    .orderBy('f.id', 'desc')
    .execute()
}

/** Its counts stay written down and are shown nowhere any more. @throws Refusal where no such file stands */
export async function withdrawPastCounts(
  ledger: Ledger,
  id: number,
  { who, at }: { readonly who: string; readonly at: Instant },
): Promise<void> {
  const { numUpdatedRows } = await ledger
    .updateTable('past_count_files')
    .set({ withdrawn_at: toDate(at), withdrawn_by: who })
    .where('id', '=', id)
    .where('withdrawn_at', 'is', null)
    .executeTakeFirst()
  if (numUpdatedRows > 0n) return
  throw new Refusal({
    kind: 'not found',
    detail: `No file of past counts has the number ${id}, or it was withdrawn before.`,
    field: 'id',
    remedy: 'Look at the list in Set-up.',
  })
}

export interface PastCountsAsked {
  readonly pointId?: number | undefined
  readonly from?: NightDate | undefined
  readonly to?: NightDate | undefined
}

/** Those that stand, the latest night first. */
export async function readPastCounts(
  ledger: Ledger,
  { pointId, from, to }: PastCountsAsked,
): Promise<PastCountRow[]> {
  return await ledger
    .selectFrom('past_counts as c')
    .innerJoin('past_count_files as f', 'f.id', 'c.file_id')
    .selectAll('c')
    .select('f.name as file_name')
    .where('f.withdrawn_at', 'is', null)
    .$if(pointId !== undefined, (query) => query.where('c.point_id', '=', pointId!))
    .$if(from !== undefined, (query) => query.where('c.night', '>=', from!))
    .$if(to !== undefined, (query) => query.where('c.night', '<=', to!))
    .orderBy('c.night', 'desc')
    .orderBy('c.point_id')
    .orderBy('c.species')
    .execute()
}

/** Nights of which any file that stands tells, in order. */
export async function listPastCountNights(ledger: Ledger): Promise<NightDate[]> {
  const rows = await ledger
    .selectFrom('past_counts as c')
    .innerJoin('past_count_files as f', 'f.id', 'c.file_id')
    .select('c.night')
    .distinct()
    .where('f.withdrawn_at', 'is', null)
    .orderBy('c.night')
    .execute()
  return rows.map(({ night }) => night)
}

async function refuseToldTwice(tx: LedgerOrTransaction, counts: readonly NewPastCount[]): Promise<void> {
  const { rows } = await sql<{
    row: number
    point: string
    night: NightDate
    species: Species
    file: string
  }>`
    select n.row, p.name as point, c.night, c.species, f.name as file
    from unnest(${counts.map(({ row }) => row)}::int[], ${counts.map(({ pointId }) => pointId)}::int[],
      ${counts.map(({ night }) => night)}::date[], ${counts.map(({ species }) => species)}::text[])
      as n (row, point_id, night, species)
    join past_counts c on c.point_id = n.point_id and c.night = n.night and c.species = n.species
    join past_count_files f on f.id = c.file_id and f.withdrawn_at is null
    join points p on p.id = c.point_id
    order by n.row limit 1`.execute(tx)
  const told = rows[0]
  if (told === undefined) return
  throw new Refusal({
    kind: 'conflict',
    detail: `row ${told.row}, column night: ${told.species} at ${told.point} on ${told.night} stand in "${told.file}" already.`,
    field: `row ${told.row}.night`,
    remedy: `Take the row out, or withdraw "${told.file}" first. Nothing of the file was taken.`,
  })
}
