/** What cameras told of their batteries, a day at a time. */
import { sql } from 'kysely'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

const DAY_MS = 86_400_000

/** Days are those of UTC, numbered from 1970-01-01: which one a reading is in matters little, only that it stays so. */
export function utcDayOf(at: Instant): number {
  return Math.floor(at / DAY_MS)
}

export async function noteBattery(
  tx: LedgerOrTransaction,
  { cameraId, at, percent }: { readonly cameraId: number; readonly at: Instant; readonly percent: number },
): Promise<void> {
  await tx
    .insertInto('battery_days')
    .values({ camera_id: cameraId, day: toDate(at).toISOString().slice(0, 10), lowest_percent: percent })
    .onConflict((conflict) =>
      conflict.columns(['camera_id', 'day']).doUpdateSet((e) => ({
        lowest_percent: e.fn<number>('least', ['battery_days.lowest_percent', 'excluded.lowest_percent']),
      })),
    )
    .execute()
}

export interface CameraBatteryDays {
  readonly cameraId: number
  readonly cameraName: string
  readonly pointId: number
  readonly days: ReadonlyArray<{ readonly day: number; readonly lowestPercent: number }>
}

/** Of each camera (or of those at one point) that told any, the days after `afterDay`, oldest first. */
export async function listBatteryDays(
  ledger: Ledger,
  { afterDay, pointId }: { readonly afterDay: number; readonly pointId?: number | undefined },
): Promise<CameraBatteryDays[]> {
  const rows = await ledger
    .selectFrom('battery_days')
    .innerJoin('cameras', 'cameras.id', 'battery_days.camera_id')
    .select(['camera_id', 'name', 'point_id', 'lowest_percent'])
    .select(sql<number>`day - date '1970-01-01'`.as('day'))
    .where(sql<boolean>`day > date '1970-01-01' + ${afterDay}::int`)
    .$if(pointId !== undefined, (query) => query.where('point_id', '=', pointId!))
    .orderBy('camera_id')
    .orderBy('day')
    .execute()
  const cameras = new Map<
    number,
    CameraBatteryDays & { days: Array<{ day: number; lowestPercent: number }> }
  >()
  for (const row of rows) {
    const camera = cameras.get(row.camera_id) ?? {
      cameraId: row.camera_id,
      cameraName: row.name,
      pointId: row.point_id,
      days: [],
    }
    camera.days.push({ day: row.day, lowestPercent: row.lowest_percent })
    cameras.set(row.camera_id, camera)
  }
  return [...cameras.values()]
}
