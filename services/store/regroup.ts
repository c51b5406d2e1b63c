/** Groups a point's sightings into visits and nights again, and works its watched time out: all of a point in one step. */
import { sql, type Transaction } from 'kysely'
import { nightRowsOf } from '../tally/night-rows.ts'
import { nightOf, nightsBetween } from '../tally/nights.ts'
import { type Visit, visitsOf } from '../tally/visits.ts'
import { type Instant, SPECIES, type Species, type Zone } from '../words.ts'
import { recountEffort } from './effort.ts'
import { standingEffortWords } from './effort-words.ts'
import { toInstant } from './instants.ts'
import type { Settings } from './settings.ts'
import type { Tables } from './tables.ts'
import { gapAtPoint } from './visits.ts'

/**
 * Makes visits, nights and effort of a point what its sightings and contacts say. The point is locked by the caller. A
 * few statements however many stills there are; a visit that is still the same keeps its row.
 */
export async function regroup(tx: Transaction<Tables>, pointId: number, settings: Settings): Promise<void> {
  const { zone, visitGapMinutes } = settings
  const gapMinutes = await gapAtPoint(tx, pointId, visitGapMinutes)
  await tx.deleteFrom('nights').where('point_id', '=', pointId).execute()
  for (const species of SPECIES) {
    const rows = await tx
      .selectFrom('sightings')
      .select(['still_id', 'taken_at', 'head', 'score'])
      .where('point_id', '=', pointId)
      .where('species', '=', species)
      .execute()
    const sightings = rows.map((row) => ({
      stillId: row.still_id,
      at: toInstant(row.taken_at),
      head: row.head,
      score: row.score,
    }))
    const visits = visitsOf(sightings, gapMinutes)
    await replaceAllVisits(tx, { pointId, species, zone }, visits)
    const nights = nightRowsOf({ sightings, visits, zone })
    await sql`insert into nights (point_id, night, species, visits, least, sum_of_peaks, photos)
      select ${pointId}, night, ${species}, visits, least, "sumOfPeaks", photos
      from jsonb_to_recordset(${JSON.stringify(nights)}::jsonb)
        as r(night date, visits int, least int, "sumOfPeaks" int, photos int)`.execute(tx)
  }
  await recountWholeEffort(tx, pointId, zone)
}

interface VisitsOf {
  readonly pointId: number
  readonly species: Species
  readonly zone: Zone
}

/** Visits neither overlap before nor after, so both are walked through in order of time. */
async function replaceAllVisits(
  tx: Transaction<Tables>,
  { pointId, species, zone }: VisitsOf,
  visits: readonly Visit[],
): Promise<void> {
  const before = await tx
    .selectFrom('visits')
    .select(['id', 'started_at', 'ended_at'])
    .where('point_id', '=', pointId)
    .where('species', '=', species)
    .orderBy('started_at')
    .execute()
  const kept: object[] = []
  const added: object[] = []
  const gone: number[] = []
  let next = 0
  for (const visit of visits) {
    const row = {
      night: nightOf(visit.startedAt, zone),
      started_at: new Date(visit.startedAt).toISOString(),
      ended_at: new Date(visit.endedAt).toISOString(),
      peak: visit.peak,
      photos: visit.photos,
      best_still_id: visit.bestStillId,
    }
    for (; next < before.length && toInstant(before[next]!.ended_at) < visit.startedAt; next += 1) {
      gone.push(before[next]!.id)
    }
    const old = before[next]
    if (old === undefined || toInstant(old.started_at) > visit.endedAt) added.push(row)
    else {
      kept.push({ id: old.id, ...row })
      next += 1
    }
  }
  for (const { id } of before.slice(next)) gone.push(id)
  // First what goes: its place in time may be another's now.
  await sql`delete from visits where id = any(${gone}::bigint[])`.execute(tx)
  const columns = sql.raw(`night date, started_at timestamptz, ended_at timestamptz, peak int, photos int,
    best_still_id bigint`)
  await sql`update visits set night = r.night, started_at = r.started_at, ended_at = r.ended_at,
      peak = r.peak, photos = r.photos, best_still_id = r.best_still_id
    from jsonb_to_recordset(${JSON.stringify(kept)}::jsonb) as r(id bigint, ${columns})
    where visits.id = r.id and (visits.night, visits.started_at, visits.ended_at, visits.peak, visits.photos,
      visits.best_still_id) is distinct from
      (r.night, r.started_at, r.ended_at, r.peak, r.photos, r.best_still_id)`.execute(tx)
  await sql`insert into visits (point_id, species, night, started_at, ended_at, peak, photos, best_still_id)
    select ${pointId}, ${species}, r.* from jsonb_to_recordset(${JSON.stringify(added)}::jsonb)
      as r(${columns})`.execute(tx)
}

/** Works all of a point's watched time out again. The point is locked by the caller. */
export async function recountWholeEffort(
  tx: Transaction<Tables>,
  pointId: number,
  zone: Zone,
): Promise<void> {
  await tx.deleteFrom('effort').where('point_id', '=', pointId).execute()
  const { rows } = await sql<{ first: Date | null; last: Date | null }>`
    select min(at) as first, max(at) as last from (
      select taken_at as at from stills where point_id = ${pointId} and clock_doubt is null
      union all
      select heartbeats.at from heartbeats join deployments on deployments.camera_id = heartbeats.camera_id
        where deployments.point_id = ${pointId}
      union all
      select started_at from deployments where point_id = ${pointId} and started_at is not null
    ) contacts`.execute(tx)
  const { first = null, last = null } = rows[0] ?? {}
  const said = [...(await standingEffortWords(tx, pointId)).keys()]
  const contacts =
    first === null || last === null
      ? []
      : nightsBetween(nightOf(first.getTime() as Instant, zone), nightOf(last.getTime() as Instant, zone))
  const nights = [...new Set([...contacts, ...said])].sort()
  if (nights.length > 0) await recountEffort(tx, { pointId, nights, zone })
}
