import { sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { LedgerOrTransaction } from './settings.ts'

const THINGS = { points: 'point', cameras: 'camera' } as const

/** Points go by their names, and cameras by theirs. @throws Refusal when another than `exceptId` has the name. */
export async function refuseTakenName(
  ledger: LedgerOrTransaction,
  table: keyof typeof THINGS,
  { name, exceptId }: { readonly name: string; readonly exceptId: number | null },
): Promise<void> {
  const taken = await sql<{ id: number }>`select id from ${sql.table(table)} where name = ${name}`.execute(
    ledger,
  )
  if (taken.rows.every(({ id }) => id === exceptId)) return
  const thing = THINGS[table]
  throw new Refusal({
    kind: 'conflict',
    detail: `A ${thing} called "${name}" is here already.`,
    field: 'name',
    remedy: `Give it another name, or change the ${thing} that is here.`,
  })
}
