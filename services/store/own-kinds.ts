/** Kinds that the owner tells apart beside the five: found, named, never tallied. */
import { kindsWith } from '../learning/kinds.ts'
import { Refusal } from '../refusal.ts'
import { type Instant, SPECIES } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'

/** More would hardly be told apart, and each has to be checked often enough. */
export const MOST_KINDS = 12

export interface OwnKind {
  readonly name: string
  readonly madeAt: Date
}

export async function listOwnKinds(ledger: Ledger): Promise<OwnKind[]> {
  const rows = await ledger.selectFrom('own_kinds').select(['name', 'made_at']).orderBy('id').execute()
  return rows.map(({ name, made_at: madeAt }) => ({ name, madeAt }))
}

/** Adds a kind; one that is there already, in capitals or not, is left as it is. @throws Refusal for a name of the five */
export async function addOwnKind(ledger: Ledger, said: string, now: Instant): Promise<OwnKind[]> {
  const name = said.toLowerCase()
  if (isTaken(name)) {
    throw new Refusal({
      kind: 'conflict',
      detail: `"${said}" is counted already, or is no kind of its own.`,
      field: 'name',
      remedy: `Give a kind that is none of ${SPECIES.join(', ')}: sheep, dog, roo.`,
    })
  }
  return await ledger.transaction().execute(async (tx) => {
    const there = await tx.selectFrom('own_kinds').select('name').execute()
    if (!there.some((one) => one.name === name) && there.length >= MOST_KINDS) {
      throw new Refusal({
        kind: 'conflict',
        detail: `There are ${MOST_KINDS} kinds of your own already.`,
        field: 'name',
        remedy: 'Take one off the list first.',
      })
    }
    await tx
      .insertInto('own_kinds')
      .values({ name, made_at: toDate(now) })
      .onConflict((conflict) => conflict.doNothing())
      .execute()
    const rows = await tx.selectFrom('own_kinds').select(['name', 'made_at']).orderBy('id').execute()
    return rows.map((row) => ({ name: row.name, madeAt: row.made_at }))
  })
}

/** Takes a kind off the list. What people said of it stands, and its name may come back. */
export async function removeOwnKind(ledger: Ledger, name: string): Promise<void> {
  const { numDeletedRows } = await ledger
    .deleteFrom('own_kinds')
    .where('name', '=', name.toLowerCase())
    .executeTakeFirstOrThrow()
  if (numDeletedRows > 0n) return
  throw new Refusal({
    kind: 'not found',
    detail: `No kind is called "${name}".`,
    field: 'name',
    remedy: 'GET /api/kinds lists them.',
  })
}

/** The six names, one animal or several: a second kind of that name would share its animals out over two. */
function isTaken(name: string): boolean {
  const one = name.endsWith('s') ? name.slice(0, -1) : name
  try {
    kindsWith([name])
    kindsWith([one])
    return false
  } catch {
    return true
  }
}
