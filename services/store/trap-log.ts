/**
 * What was done with traps: an append-only log. A word on a trap's state stands among the point's states too, as long as it
 * stands here; so there is one truth of a trap, whichever way it was told.
 */
import type { Selectable } from 'kysely'
import type { TrapWord, TrapWordKind } from '../tally/trap-visits.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import { tellPointsChanged } from './notices.ts'
import type { Ledger } from './open.ts'
import type { TrapLogTable } from './outcome-tables.ts'
import { findPoint } from './points.ts'
import { fingerprint, refuseOther, refuseTwice, refuseUnknown } from './said-once.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type TrapLogRow = Selectable<TrapLogTable>

export interface SaidTrapWord extends TrapWord {
  readonly id: string
  readonly pointId: number
  readonly note: string | null
  /** The entry in whose place it stands. */
  readonly withdraws: string | null
}

export interface TrapWithdrawal {
  readonly kind: 'withdrawn'
  readonly id: string
  readonly who: string
  readonly withdraws: string
  readonly note: string | null
}

interface Writing {
  readonly now: Instant
  readonly field: string
}

/** Writes these words, all or none; one that came before under its id is left as it is. */
export async function recordTrapWords(
  ledger: Ledger,
  { words, now }: { readonly words: ReadonlyArray<SaidTrapWord | TrapWithdrawal>; readonly now: Instant },
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    for (const [index, word] of words.entries()) {
      await recordTrapWord(tx, word, { now, field: `words.${index}` })
    }
  })
}

/** Writes one word, within a transaction of the caller's. */
export async function recordTrapWord(
  tx: LedgerOrTransaction,
  word: SaidTrapWord | TrapWithdrawal,
  { now, field }: Writing,
): Promise<void> {
  const known = await wordUnder(tx, word.id)
  if (known !== undefined) return refuseOther(known.said, word, `${field}.id`)
  const first = word.withdraws === null ? null : await withdrawable(tx, word.withdraws, field)
  const said = word.kind === 'withdrawn' ? withdrawalOf(first!, word, now) : columnsOf(word)
  await findPoint(tx, said.point_id)
  const written = await tx
    .insertInto('trap_log')
    .values({ ...said, note: word.note, said_at: toDate(now), said: fingerprint(word) })
    // Under its own id by another request at the same moment, or in the place of the same entry.
    .onConflict((conflict) => conflict.doNothing())
    .returning('id')
    .executeTakeFirst()
  if (written === undefined) {
    const meanwhile = await wordUnder(tx, word.id)
    if (meanwhile === undefined) refuseTwice(`${field}.withdraws`)
    return refuseOther(meanwhile.said, word, `${field}.id`)
  }
  await tellPointsChanged(tx, [said.point_id])
  if (first !== null) await tx.deleteFrom('point_states').where('trap_word', '=', first.id).execute()
  if (word.kind !== 'withdrawn' && word.kind !== 'visited') await addState(tx, { ...word, kind: word.kind })
}

async function addState(
  tx: LedgerOrTransaction,
  { id, pointId, kind, at, note }: SaidTrapWord & { readonly kind: Exclude<TrapWordKind, 'visited'> },
): Promise<void> {
  await tx
    .insertInto('point_states')
    .values({
      point_id: pointId,
      kind,
      at: toDate(at),
      source: 'tap',
      level_percent: null,
      note,
      trap_word: id,
    })
    .execute()
}

async function wordUnder(tx: LedgerOrTransaction, id: string): Promise<TrapLogRow | undefined> {
  return await tx.selectFrom('trap_log').selectAll().where('id', '=', id).executeTakeFirst()
}

async function withdrawable(tx: LedgerOrTransaction, id: string, field: string): Promise<TrapLogRow> {
  const first = await wordUnder(tx, id)
  if (first === undefined || first.kind === 'withdrawn') refuseUnknown(id, `${field}.withdraws`)
  return first
}

const NOTHING_HELD = { held: null, held_since: null, species: null, class: null }

function withdrawalOf(first: TrapLogRow, { id, who, withdraws }: TrapWithdrawal, now: Instant) {
  return {
    id,
    kind: 'withdrawn' as const,
    point_id: first.point_id,
    at: toDate(now),
    who,
    withdraws,
    ...NOTHING_HELD,
  }
}

function columnsOf(word: SaidTrapWord) {
  return {
    id: word.id,
    kind: word.kind,
    point_id: word.pointId,
    at: toDate(word.at),
    held: word.held,
    held_since: word.heldSince === null ? null : toDate(word.heldSince),
    species: word.species,
    class: word.class,
    who: word.who,
    withdraws: word.withdraws,
  }
}
