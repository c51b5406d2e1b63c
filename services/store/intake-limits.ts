/** How much the station takes: of one photo, and of one camera. */
import type { LedgerOrTransaction } from './settings.ts'

export interface IntakeLimits {
  readonly stillMegabytes: number
  readonly megapixels: number
  /** Of one camera; null: as many as come. */
  readonly stillsAMinute: number | null
  readonly stillsADay: number | null
}

export async function readIntakeLimits(ledger: LedgerOrTransaction): Promise<IntakeLimits> {
  const row = await ledger.selectFrom('intake_limits').selectAll().executeTakeFirstOrThrow()
  return {
    stillMegabytes: row.still_megabytes,
    megapixels: row.megapixels,
    stillsAMinute: row.stills_a_minute,
    stillsADay: row.stills_a_day,
  }
}

export async function saveIntakeLimits(ledger: LedgerOrTransaction, limits: IntakeLimits): Promise<void> {
  await ledger
    .updateTable('intake_limits')
    .set({
      still_megabytes: limits.stillMegabytes,
      megapixels: limits.megapixels,
      stills_a_minute: limits.stillsAMinute,
      stills_a_day: limits.stillsADay,
    })
    .execute()
}
