/** What was watched, after a camera's contacts moved in time. */
import type { Transaction } from 'kysely'
import { nightOf, nightsBetween } from '../tally/nights.ts'
import type { TimeAtPoint } from '../tally/placing.ts'
import type { Instant, NightDate, Zone } from '../words.ts'
import { findCamera } from './cameras.ts'
import { recountEffort, runsOf } from './effort.ts'
import { toDate } from './instants.ts'
import { recountWholeEffort } from './regroup.ts'
import type { Tables } from './tables.ts'

const HOUR_MS = 3_600_000

/**
 * Works the nights out again that contacts at these moments, old and new, can have changed, at every point where the camera
 * stood, and when it last spoke. The points are locked by the caller.
 */
export async function recountMovedContacts(
  tx: Transaction<Tables>,
  cameraId: number,
  {
    times,
    moments,
    zone,
  }: { readonly times: readonly TimeAtPoint[]; readonly moments: readonly Instant[]; readonly zone: Zone },
): Promise<void> {
  const camera = await findCamera(tx, cameraId)
  const points = [...new Set(times.map(({ pointId }) => pointId))]
  if (camera.sends_heartbeats) {
    const nights = nightsAround(moments, camera.expected_silence_hours, zone)
    for (const pointId of points)
      for (const run of runsOf(nights)) await recountEffort(tx, { pointId, nights: run, zone })
  } else {
    // Its first and its last contact decide: either may have become another one, however far away.
    for (const pointId of points) await recountWholeEffort(tx, pointId, zone)
  }
  await keepLastContact(tx, cameraId)
}

/** A contact reaches as far as the camera may be silent, to either side. */
function nightsAround(moments: readonly Instant[], silenceHours: number, zone: Zone): NightDate[] {
  const reach = silenceHours * HOUR_MS
  const nights = new Set<NightDate>()
  for (const at of moments) {
    const from = nightOf((at - reach) as Instant, zone)
    for (const night of nightsBetween(from, nightOf((at + reach) as Instant, zone))) nights.add(night)
  }
  return [...nights].sort()
}

async function keepLastContact(tx: Transaction<Tables>, cameraId: number): Promise<void> {
  const still = await tx
    .selectFrom('stills')
    .select('taken_at as at')
    .where('camera_id', '=', cameraId)
    .where('clock_doubt', 'is', null)
    .orderBy('taken_at', 'desc')
    .limit(1)
    .executeTakeFirst()
  const beat = await tx
    .selectFrom('heartbeats')
    .select('at')
    .where('camera_id', '=', cameraId)
    .orderBy('at', 'desc')
    .limit(1)
    .executeTakeFirst()
  const last = [still, beat].flatMap((row) => (row === undefined ? [] : [row.at.getTime()]))
  await tx
    .updateTable('cameras')
    .set({ last_contact_at: last.length === 0 ? null : toDate(Math.max(...last) as Instant) })
    .where('id', '=', cameraId)
    .execute()
}
