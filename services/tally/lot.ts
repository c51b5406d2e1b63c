/** Drawing by lot so that anyone can draw again: each thing's ticket is a hash of the seed and its name. */
import { createHash } from 'node:crypto'

/**
 * The things in the order of their tickets, SHA-256 of "seed,name" (the ticket numbers of Rivest 2018,
 * arXiv:1808.10016, made for audits of elections): the first n are a simple random sample without replacement. The order
 * of the input has no say, and a thing that comes or goes leaves the order of the others as it was.
 */
export function inOrderOfLot<T>(
  things: readonly T[],
  { seed, nameOf }: { readonly seed: string; readonly nameOf: (thing: T) => string },
): T[] {
  return things
    .map((thing) => ({ thing, ticket: ticketOf(seed, nameOf(thing)) }))
    .sort((a, b) => (a.ticket < b.ticket ? -1 : a.ticket > b.ticket ? 1 : 0))
    .map(({ thing }) => thing)
}

const ticketOf = (seed: string, name: string) => createHash('sha256').update(`${seed},${name}`).digest('hex')
