/** The trap log as it is read: a point's entries, and what is needed to say how each trap stands. */
import { sql } from 'kysely'
import type { TrapWord, TrapWordKind } from '../tally/trap-visits.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import { TRUSTED_AHEAD_MS } from './last-contact.ts'
import { backBy, type TakenBackBy } from './said-once.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { TrapLogRow } from './trap-log.ts'

/** A word of the log that is not a withdrawal, with the word that took it back or stands in its place, if any. */
export interface TrapEntry extends TrapLogRow {
  readonly kind: TrapWordKind
  readonly point_name: string
  readonly back: TakenBackBy | null
}

/** The log, latest first: what was taken back too. Of one point, and of a spell, where they are given. */
export async function trapEntries(
  ledger: LedgerOrTransaction,
  which: {
    readonly pointId?: number | undefined
    readonly from?: Instant | undefined
    readonly to?: Instant | undefined
    readonly limit: number
  },
): Promise<readonly TrapEntry[]> {
  const { pointId, from, to, limit } = which
  const { rows } = await sql<TrapEntry>`
    select t.*, p.name as point_name, ${backBy('w')} as back
    from trap_log t join points p on p.id = t.point_id left join trap_log w on w.withdraws = t.id
    where t.kind <> 'withdrawn' and ${pointId === undefined ? sql`true` : sql`t.point_id = ${pointId}`}
      and ${from === undefined ? sql`true` : sql`t.at >= ${toDate(from)}`}
      and ${to === undefined ? sql`true` : sql`t.at < ${toDate(to)}`}
    order by t.at desc, t.seq desc limit ${limit}`.execute(ledger)
  return rows
}

/**
 * What is needed to say how each trap stands at `now`: the last standing word of each point, the last on its state, and the
 * last that says what it holds. A few index steps a point. What a phone's clock far ahead wrote down is not yet true.
 */
export async function trapsAt(
  ledger: LedgerOrTransaction,
  { now, pointId }: { readonly now: Instant; readonly pointId?: number | undefined },
): Promise<ReadonlyMap<number, readonly TrapWord[]>> {
  const only = pointId === undefined ? sql`true` : sql`p.id = ${pointId}`
  const standing = sql`t.point_id = p.id and t.at <= ${toDate((now + TRUSTED_AHEAD_MS) as Instant)} and t.kind <> 'withdrawn'
    and not exists (select from trap_log w where w.withdraws = t.id)`
  const latest = sql`order by t.at desc, t.seq desc limit 1`
  const { rows } = await sql<TrapLogRow & { readonly kind: TrapWordKind }>`
    select found.* from points p cross join lateral (
      (select t.* from trap_log t where ${standing} ${latest})
      union
      (select t.* from trap_log t where ${standing} and t.kind <> 'visited' ${latest})
      union
      (select t.* from trap_log t where ${standing}
        and (t.held is not null or t.kind in ('trap open', 'trap shut down')) ${latest})
    ) found
    where ${only} order by found.at, found.seq`.execute(ledger)
  const byPoint = new Map<number, TrapWord[]>()
  for (const row of rows) {
    const words = byPoint.get(row.point_id) ?? []
    words.push(trapWordOf(row))
    byPoint.set(row.point_id, words)
  }
  return byPoint
}

/** A row that is not a withdrawal. */
export function trapWordOf(row: TrapLogRow & { readonly kind: TrapWordKind }): TrapWord {
  return {
    kind: row.kind,
    at: toInstant(row.at),
    held: row.held,
    heldSince: row.held_since && toInstant(row.held_since),
    species: row.species,
    class: row.class,
    who: row.who,
  }
}
