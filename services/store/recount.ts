/** Counts a point again from nothing: after a change of settings, and to prove that the kept aggregates are right. */
import { nightOf, nightsBetween } from '../tally/nights.ts'
import type { Instant } from '../words.ts'
import { recountEffort } from './effort.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { readSettings } from './settings.ts'
import { retallyStill } from './sightings.ts'

/**
 * Empties a point's sightings, visits, nights and effort and builds them again from its stills, boxes, checks and
 * contacts, in one transaction: a reader sees the old numbers or the new ones, never half.
 */
export async function recountPoint(ledger: Ledger, pointId: number): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, pointId)
    const { zone, ...settings } = await readSettings(tx)
    for (const table of ['sightings', 'visits', 'nights', 'effort'] as const) {
      await tx.deleteFrom(table).where('point_id', '=', pointId).execute()
    }
    const stills = await tx
      .selectFrom('stills')
      .select(['id', 'point_id', 'taken_at', 'clock_doubt', 'state', 'night'])
      .where('point_id', '=', pointId)
      .orderBy('taken_at')
      .execute()
    for (const still of stills) {
      const night = nightOf(toInstant(still.taken_at), zone)
      if (night !== still.night)
        await tx.updateTable('stills').set({ night }).where('id', '=', still.id).execute()
      if (still.state === 'done') await retallyStill(tx, still, { zone, ...settings })
    }
    const contacts = await tx
      .selectFrom('stills')
      .select(['taken_at as at'])
      .where('point_id', '=', pointId)
      .where('clock_doubt', 'is', null)
      .unionAll(
        tx
          .selectFrom('heartbeats')
          .innerJoin('deployments', 'deployments.camera_id', 'heartbeats.camera_id')
          .select(['heartbeats.at'])
          .where('deployments.point_id', '=', pointId),
      )
      .execute()
    const times = contacts.map((contact) => contact.at.getTime())
    const starts = await tx
      .selectFrom('deployments')
      .select('started_at')
      .where('point_id', '=', pointId)
      .execute()
    for (const { started_at } of starts) if (started_at !== null) times.push(started_at.getTime())
    if (times.length === 0) return
    const first = nightOf(times.reduce((a, b) => Math.min(a, b)) as Instant, zone)
    const last = nightOf(times.reduce((a, b) => Math.max(a, b)) as Instant, zone)
    await recountEffort(tx, { pointId, nights: nightsBetween(first, last), zone })
  })
}

/** Every point, one transaction each. */
export async function recountStation(ledger: Ledger): Promise<void> {
  const points = await ledger.selectFrom('points').select('id').orderBy('id').execute()
  for (const { id } of points) await recountPoint(ledger, id)
}
