/** What was taken at yards: an append-only log. A word that was taken back, or corrected by a later one, stands no more. */
import { type Selectable, sql } from 'kysely'
import type { Fate } from '../tally/fates.ts'
import type { Instant, Species } from '../words.ts'
import { toDate } from './instants.ts'
import { tellPointsChanged } from './notices.ts'
import type { Ledger } from './open.ts'
import type { OutcomesTable } from './outcome-tables.ts'
import { findPoint } from './points.ts'
import { findProgram } from './programs.ts'
import { fingerprint, refuseOther, refuseTwice, refuseUnknown } from './said-once.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type OutcomeRow = Selectable<OutcomesTable>

/** An outcome that stands. */
export interface Outcome {
  readonly id: string
  readonly programId: number | null
  readonly pointId: number
  readonly species: Species
  /** Station date, `2026-11-24`. */
  readonly day: string
  readonly method: string
  /** 0: nothing was taken with that effort. */
  readonly head: number
  readonly fate: Fate
  readonly class: string | null
  readonly effort: { readonly amount: number; readonly unit: string } | null
  readonly carrier: string | null
  readonly paper: string | null
  readonly note: string | null
  readonly who: string
  readonly saidAt: Date
}

export interface TakenWord extends Omit<Outcome, 'who' | 'saidAt'> {
  readonly kind: 'taken'
  readonly who: string
  /** The entry in whose place it stands. */
  readonly withdraws: string | null
}

export interface WithdrawnWord {
  readonly kind: 'withdrawn'
  readonly id: string
  readonly who: string
  readonly withdraws: string
  readonly note: string | null
}

export type OutcomeWord = TakenWord | WithdrawnWord

/** Writes these words, all or none; one that came before under its id is left as it is. */
export async function recordOutcomes(
  ledger: Ledger,
  { words, now }: { readonly words: readonly OutcomeWord[]; readonly now: Instant },
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    for (const [index, word] of words.entries()) {
      await record(tx, { word, now, field: `words.${index}` })
    }
    await tellPointsChanged(
      tx,
      words.flatMap((word) => (word.kind === 'taken' ? [word.pointId] : [])),
    )
  })
}

interface ToRecord {
  readonly word: OutcomeWord
  readonly now: Instant
  readonly field: string
}

async function record(tx: LedgerOrTransaction, { word, now, field }: ToRecord): Promise<void> {
  const known = await saidUnder(tx, word.id)
  if (known !== undefined) return refuseOther(known.said, word, `${field}.id`)
  if (word.withdraws !== null) {
    const first = await saidUnder(tx, word.withdraws)
    if (first === undefined || first.kind !== 'taken') refuseUnknown(word.withdraws, `${field}.withdraws`)
  }
  if (word.kind === 'taken') await findPoint(tx, word.pointId)
  if (word.kind === 'taken' && word.programId !== null) await findProgram(tx, word.programId)
  const written = await tx
    .insertInto('outcomes')
    .values({
      id: word.id,
      kind: word.kind,
      who: word.who,
      note: word.note,
      withdraws: word.withdraws,
      said_at: toDate(now),
      said: fingerprint(word),
      ...(word.kind === 'taken' ? columnsOf(word) : {}),
    })
    // Under its own id by another request at the same moment, or in the place of the same entry.
    .onConflict((conflict) => conflict.doNothing())
    .returning('id')
    .executeTakeFirst()
  if (written !== undefined) return
  const meanwhile = await saidUnder(tx, word.id)
  if (meanwhile === undefined) refuseTwice(`${field}.withdraws`)
  refuseOther(meanwhile.said, word, `${field}.id`)
}

function columnsOf(word: TakenWord) {
  return {
    program_id: word.programId,
    point_id: word.pointId,
    species: word.species,
    day: word.day,
    method: word.method,
    head: word.head,
    fate: word.fate,
    class: word.class,
    effort: word.effort?.amount ?? null,
    effort_unit: word.effort?.unit ?? null,
    carrier: word.carrier,
    paper: word.paper,
  }
}

async function saidUnder(tx: LedgerOrTransaction, id: string) {
  return await tx.selectFrom('outcomes').select(['said', 'kind']).where('id', '=', id).executeTakeFirst()
}

/** Outcomes of a program that stand, oldest first. */
export async function outcomesOf(ledger: LedgerOrTransaction, programId: number): Promise<Outcome[]> {
  const { rows } = await sql<OutcomeRow>`
    select o.* from outcomes o
    where o.kind = 'taken' and o.program_id = ${programId}
      and not exists (select from outcomes w where w.withdraws = o.id)
    order by o.day, o.seq`.execute(ledger)
  return rows.map(outcomeOf)
}

/** A row that is not a withdrawal. */
export function outcomeOf(row: OutcomeRow): Outcome {
  return {
    id: row.id,
    programId: row.program_id,
    pointId: row.point_id!,
    species: row.species!,
    day: row.day!,
    method: row.method!,
    head: row.head!,
    fate: row.fate!,
    class: row.class,
    effort:
      row.effort === null || row.effort_unit === null ? null : { amount: row.effort, unit: row.effort_unit },
    carrier: row.carrier,
    paper: row.paper,
    note: row.note,
    who: row.who,
    saidAt: row.said_at,
  }
}
