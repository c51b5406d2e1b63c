/** Words that carry an id of their sender's making: sent again they are said once, and other words under a used id are refused. */
import { createHash } from 'node:crypto'
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
