/** Words that come twice are said once: a batch carries an id that its sender made. */
import { createHash } from 'node:crypto'
import type { Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { SaidWord } from '../tally/whole-word.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { Tables } from './tables.ts'

export interface Batch {
  /** A UUID of the sender's making; without one no repeat is known again. */
  readonly id?: string | undefined
  readonly who: string
  readonly words: readonly SaidWord[]
}

/**
 * Takes a batch's id. False when it is taken: what it said stands written. Another transaction that is about to write
 * the same batch is waited for.
 * @throws Refusal when the id was used for other words
 */
export async function takeBatch(tx: Transaction<Tables>, batch: Batch, at: Instant): Promise<boolean> {
  if (batch.id === undefined) return true
  const said = fingerprint(batch)
  const taken = await tx
    .insertInto('check_batches')
    .values({ id: batch.id, at: toDate(at), who: batch.who, said })
    .onConflict((conflict) => conflict.column('id').doNothing())
    .returning('id')
    .executeTakeFirst()
  if (taken !== undefined) return true
  const first = await tx
    .selectFrom('check_batches')
    .select('said')
    .where('id', '=', batch.id)
    .executeTakeFirstOrThrow()
  if (first.said.equals(said)) return false
  throw new Refusal({
    kind: 'conflict',
    detail: `Other words came before under the id ${batch.id}.`,
    field: 'batch',
    remedy: 'Make a new id for new words; send the same words again under their first id.',
  })
}

function fingerprint({ who, words }: Batch): Buffer {
  return createHash('sha256').update(JSON.stringify({ who, words })).digest()
}
