/** Words that carry an id of their sender's making: sent again they are said once, and other words under a used id are refused. */
import { createHash } from 'node:crypto'
import { type RawBuilder, sql } from 'kysely'
import { Refusal } from '../refusal.ts'

/** SHA-256 of a word as it came, whatever the order of its fields. */
export function fingerprint(word: object): Buffer {
  const inOrder = Object.entries(word).toSorted(([a], [b]) => a.localeCompare(b))
  return createHash('sha256').update(JSON.stringify(inOrder)).digest()
}

/** @throws Refusal when the id was used for another word */
export function refuseOther(first: Buffer, word: { readonly id: string }, field: string): void {
  if (first.equals(fingerprint(word))) return
  throw new Refusal({
    kind: 'conflict',
    detail: `Something else came before under the id ${word.id}.`,
    field,
    remedy: 'Make a new id for a new word; send the same word again under its first id.',
  })
}

/** @throws Refusal always: two would stand in the place of one */
export function refuseTwice(field: string): never {
  throw new Refusal({
    kind: 'conflict',
    detail: 'This entry has been corrected or taken back before.',
    field,
    remedy: 'Load the list again and correct what stands now.',
  })
}

export function refuseUnknown(id: string, field: string): never {
  throw new Refusal({
    kind: 'not found',
    detail: `There is no entry ${id} that could be taken back.`,
    field,
    remedy: 'Load the list again and choose one that stands there.',
  })
}

/** The word that took another back or stands in its place, as `backBy` reads it. */
export interface TakenBackBy {
  readonly id: string
  readonly who: string
  /** ISO 8601. */
  readonly at: string
  readonly note: string | null
  /** It stands in its place. */
  readonly corrected: boolean
}

/** A `TakenBackBy`, or null where the outer join found no such word. */
export function backBy(word: string): RawBuilder<TakenBackBy | null> {
  const of = (column: string) => sql.ref(`${word}.${column}`)
  return sql`case when ${of('id')} is null then null else jsonb_build_object('id', ${of('id')}, 'who', ${of('who')},
    'at', ${of('said_at')}, 'note', ${of('note')}, 'corrected', ${of('kind')} <> 'withdrawn') end`
}
