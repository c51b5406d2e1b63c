/** A row of the log of checks, and what stands by it. */
import type { Selectable } from 'kysely'
import type { WholeWord } from '../tally/whole-word.ts'
import type { DrawnBox, Mark, Others, Tally } from '../words.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { ChecksTable, Verdict } from './tables.ts'

export interface CheckRow {
  readonly id: number
  readonly stillId: number
  readonly at: Date
  readonly who: string
  readonly verdict: Verdict
  readonly counts: Tally | null
  readonly marks: readonly Mark[]
  readonly others: Others | null
  readonly boxes: readonly DrawnBox[]
}

/** A last check as what stands by it, in the pure core's words; null where nothing does. */
export function standingOfRow(row: Pick<CheckRow, 'verdict' | keyof WholeWord>): WholeWord | null {
  const { verdict, counts, others, marks, boxes } = row
  return verdict === 'withdrawn' ? null : { counts, others, marks, boxes }
}

/** Of each still its last check, withdrawn or not; those without one are left out. */
export async function lastChecksOn(
  ledger: LedgerOrTransaction,
  stillIds: readonly number[],
): Promise<CheckRow[]> {
  const rows = await ledger
    .selectFrom('checks')
    .distinctOn('still_id')
    .select(['id', 'still_id', 'at', 'who', 'verdict', 'counts', 'marks', 'others', 'boxes'])
    .where('still_id', 'in', stillIds)
    .orderBy('still_id')
    .orderBy('id', 'desc')
    .execute()
  return rows.map(checkRowOf)
}

export function checkRowOf(row: Omit<Selectable<ChecksTable>, 'seen' | 'batch_id'>): CheckRow {
  return {
    id: row.id,
    stillId: row.still_id,
    at: row.at,
    who: row.who,
    verdict: row.verdict,
    counts: row.counts,
    marks: row.marks ?? [],
    others: row.others,
    boxes: row.boxes ?? [],
  }
}
