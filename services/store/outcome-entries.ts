/** The log of what was taken, as people read it: what was taken back or corrected too. */
import { sql } from 'kysely'
import { type Outcome, type OutcomeRow, outcomeOf } from './outcomes.ts'
import { backBy, type TakenBackBy } from './said-once.ts'
import type { LedgerOrTransaction } from './settings.ts'

/** An outcome with the word that took it back or stands in its place, if any. */
export interface OutcomeEntry extends Outcome {
  readonly pointName: string
  readonly programName: string | null
  /** The entry in whose place it stands. */
  readonly insteadOf: string | null
  readonly back: TakenBackBy | null
}

/** The log, latest day first, what was taken back too; narrowed by what is given. Days are station dates, both included. */
export async function outcomeEntries(
  ledger: LedgerOrTransaction,
  which: {
    readonly programId?: number | undefined
    readonly pointId?: number | undefined
    readonly from?: string | undefined
    readonly to?: string | undefined
    readonly limit: number
  },
): Promise<OutcomeEntry[]> {
  const { programId, pointId, from, to, limit } = which
  const { rows } = await sql<
    OutcomeRow & { point_name: string; program_name: string | null; back: TakenBackBy | null }
  >`
    select o.*, p.name as point_name, g.name as program_name, ${backBy('w')} as back
    from outcomes o join points p on p.id = o.point_id left join programs g on g.id = o.program_id
    left join outcomes w on w.withdraws = o.id
    where o.kind = 'taken' and ${programId === undefined ? sql`true` : sql`o.program_id = ${programId}`}
      and ${pointId === undefined ? sql`true` : sql`o.point_id = ${pointId}`}
      and ${from === undefined ? sql`true` : sql`o.day >= ${from}`} and ${to === undefined ? sql`true` : sql`o.day <= ${to}`}
    order by o.day desc, o.seq desc limit ${limit}`.execute(ledger)
  return rows.map((row) => ({
    ...outcomeOf(row),
    pointName: row.point_name,
    programName: row.program_name,
    insteadOf: row.withdraws,
    back: row.back,
  }))
}
