/** The owner's rule for keeping photos, and what its last run freed. */
import type { KeepingRule } from '../tally/keeping.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface Keeping {
  readonly rule: KeepingRule
  readonly last: (Freed & { readonly at: Instant }) | null
}

export interface Freed {
  readonly photos: number
  readonly bytes: number
}

export async function readKeeping(ledger: LedgerOrTransaction): Promise<Keeping> {
  const row = await ledger.selectFrom('keeping').selectAll().executeTakeFirstOrThrow()
  return {
    rule: { empties: row.empties, afterDays: row.after_days },
    last: row.ran_at && {
      at: toInstant(row.ran_at),
      photos: row.freed_photos ?? 0,
      bytes: row.freed_bytes ?? 0,
    },
  }
}

export async function saveKeepingRule(ledger: LedgerOrTransaction, rule: KeepingRule): Promise<void> {
  await ledger.updateTable('keeping').set({ empties: rule.empties, after_days: rule.afterDays }).execute()
}

export async function recordKeepingRun(
  ledger: LedgerOrTransaction,
  { at, photos, bytes }: Freed & { readonly at: Instant },
): Promise<void> {
  await ledger
    .updateTable('keeping')
    .set({ ran_at: toDate(at), freed_photos: photos, freed_bytes: bytes })
    .execute()
}
