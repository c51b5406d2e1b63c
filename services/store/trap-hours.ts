/** How long a set trap may go without a visit: the station's word, and those of single points. */
import { LONGEST_VISIT_HOURS } from '../tally/trap-visits.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface TrapHours {
  readonly station: number
  /** By point; one that is not here goes by the station's. */
  readonly points: ReadonlyMap<number, number>
}

export async function readTrapHours(ledger: LedgerOrTransaction): Promise<TrapHours> {
  const rows = await ledger.selectFrom('trap_hours').selectAll().execute()
  return {
    station: rows.find(({ point_id }) => point_id === null)?.hours ?? LONGEST_VISIT_HOURS,
    points: new Map(
      rows.flatMap(({ point_id, hours }) => (point_id === null ? [] : [[point_id, hours] as const])),
    ),
  }
}

/** A point's hours are never longer than the station's: codes that ask for more hold everywhere. */
export function trapHoursAt({ station, points }: TrapHours, pointId: number): number {
  return Math.min(station, points.get(pointId) ?? station)
}

/** `pointId` null: the station's. `hours` null takes the word back. */
export async function saveTrapHours(
  ledger: LedgerOrTransaction,
  { pointId, hours }: { readonly pointId: number | null; readonly hours: number | null },
): Promise<void> {
  if (hours === null) {
    await ledger
      .deleteFrom('trap_hours')
      .where('point_id', pointId === null ? 'is' : '=', pointId)
      .execute()
    return
  }
  await ledger
    .insertInto('trap_hours')
    .values({ point_id: pointId, hours })
    .onConflict((conflict) => conflict.column('point_id').doUpdateSet({ hours }))
    .execute()
}
