/** Signs of life that come without a still. */
import type { Instant } from '../words.ts'
import { noteBattery } from './battery-days.ts'
import { aroundContacts } from './contacts.ts'
import { recountChanged } from './effort.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'

export interface Heartbeat {
  readonly cameraId: number
  readonly pointId: number
  readonly at: Instant
  readonly receivedAt: Instant
  readonly batteryPercent: number | null
  readonly temperatureC: number | null
  readonly signalPercent: number | null
  readonly freeBytes: number | null
}

/** A sign of life without a still. The same heartbeat sent again changes nothing. */
export async function recordHeartbeat(
  ledger: Ledger,
  heartbeat: Heartbeat,
): Promise<{ readonly known: boolean }> {
  return await ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, heartbeat.pointId)
    const contacts = await aroundContacts(tx, [heartbeat])
    const row = await tx
      .insertInto('heartbeats')
      .values({
        camera_id: heartbeat.cameraId,
        at: toDate(heartbeat.at),
        received_at: toDate(heartbeat.receivedAt),
        battery_percent: heartbeat.batteryPercent,
        temperature_c: heartbeat.temperatureC,
        signal_percent: heartbeat.signalPercent,
        free_bytes: heartbeat.freeBytes,
      })
      .onConflict((conflict) => conflict.columns(['camera_id', 'at']).doNothing())
      .returning('at')
      .executeTakeFirst()
    if (row === undefined) return { known: true }
    if (heartbeat.batteryPercent !== null)
      await noteBattery(tx, {
        cameraId: heartbeat.cameraId,
        at: heartbeat.at,
        percent: heartbeat.batteryPercent,
      })
    await tx
      .updateTable('cameras')
      .set((e) => ({
        last_contact_at: e.fn<Date>('greatest', ['last_contact_at', e.val(toDate(heartbeat.at))]),
      }))
      .where('id', '=', heartbeat.cameraId)
      .execute()
    await recountChanged(tx, contacts)
    return { known: false }
  })
}
