/** How each point is reached, in the owner's words: an append-only log, the latest of a point stands. */
import type { Selectable } from 'kysely'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { findPoint } from './points.ts'
import type { AccessNotesTable } from './program-tables.ts'

export type AccessNoteRow = Selectable<AccessNotesTable>

/** Null: nothing to say of it. */
export interface Access {
  readonly road: string | null
  readonly gates: string | null
  readonly wetSeason: string | null
  readonly turnaround: string | null
}

/** The standing words of every point that has any. */
export async function readAccess(ledger: Ledger): Promise<AccessNoteRow[]> {
  return await ledger
    .selectFrom('access_notes')
    .selectAll()
    .distinctOn('point_id')
    .orderBy('point_id')
    .orderBy('id', 'desc')
    .execute()
}

/** @throws Refusal for a point that is not there */
export async function sayAccess(
  ledger: Ledger,
  said: { readonly pointId: number; readonly at: Instant; readonly who: string; readonly access: Access },
): Promise<AccessNoteRow> {
  await findPoint(ledger, said.pointId)
  const { road, gates, wetSeason, turnaround } = said.access
  return await ledger
    .insertInto('access_notes')
    .values({
      point_id: said.pointId,
      at: toDate(said.at),
      who: said.who,
      road,
      gates,
      wet_season: wetSeason,
      turnaround,
    })
    .returningAll()
    .executeTakeFirstOrThrow()
}
