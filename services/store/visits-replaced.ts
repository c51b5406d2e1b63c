/** Writes visits in the place of those that were there, and the rows of nights behind them. */
import { sql, type Transaction } from 'kysely'
import { nightOf, nightSpell } from '../tally/nights.ts'
import type { Visit } from '../tally/visits.ts'
import type { NightDate, Zone } from '../words.ts'
import { toIso } from './instants.ts'
import type { Tables } from './tables.ts'
import type { NearVisit, PointSpecies } from './visits-near.ts'

/** A stretch of a species at a point: the visits that were there, and those that are there now. */
export interface Replaced extends PointSpecies {
  readonly before: readonly NearVisit[]
  readonly after: readonly Visit[]
}

/** Keeps a visit's id while it lives, so that a link to it goes on working when a still joins it. */
export async function replaceVisits(
  tx: Transaction<Tables>,
  replaced: readonly Replaced[],
  zone: Zone,
): Promise<void> {
  const gone: number[] = []
  const kept: object[] = []
  const added: object[] = []
  for (const { pointId, species, before, after } of replaced) {
    const unused = [...before]
    for (const visit of after) {
      const row = { pointId, species, ...visitRow(visit, zone) }
      const index = unused.findIndex(
        (old) => old.startedAt <= visit.endedAt && old.endedAt >= visit.startedAt,
      )
      const [old] = index < 0 ? [] : unused.splice(index, 1)
      if (old === undefined) added.push(row)
      else kept.push({ id: old.id, ...row })
    }
    gone.push(...unused.map(({ id }) => id))
  }
  // First what goes: its place in time may be another's now.
  if (gone.length > 0) await sql`delete from visits where id = any(${gone}::bigint[])`.execute(tx)
  if (kept.length > 0) {
    await sql`update visits set night = r.night, started_at = r."startedAt", ended_at = r."endedAt", peak = r.peak,
        photos = r.photos, best_still_id = r."bestStillId"
      from jsonb_to_recordset(${JSON.stringify(kept)}::jsonb) as r(id bigint, ${VISIT_COLUMNS})
      where visits.id = r.id`.execute(tx)
  }
  if (added.length > 0) {
    await sql`insert into visits (point_id, species, night, started_at, ended_at, peak, photos, best_still_id)
      select "pointId", species, night, "startedAt", "endedAt", peak, photos, "bestStillId"
      from jsonb_to_recordset(${JSON.stringify(added)}::jsonb)
        as r("pointId" int, species text, ${VISIT_COLUMNS})`.execute(tx)
  }
}

const VISIT_COLUMNS = sql.raw(
  'night date, "startedAt" timestamptz, "endedAt" timestamptz, peak int, photos int, "bestStillId" bigint',
)

function visitRow({ startedAt, endedAt, ...visit }: Visit, zone: Zone) {
  return { ...visit, night: nightOf(startedAt, zone), startedAt: toIso(startedAt), endedAt: toIso(endedAt) }
}

export type NightOfSpecies = PointSpecies & { readonly night: NightDate }

/** The rows of nights, from their sightings and visits; no row where the species was not seen. */
export async function recountNights(
  tx: Transaction<Tables>,
  nights: readonly NightOfSpecies[],
  zone: Zone,
): Promise<void> {
  const spells = nights.map(({ night }) => nightSpell(night, zone))
  await sql`
    with asked as (
      select * from unnest(${nights.map(({ pointId }) => pointId)}::int[],
        ${nights.map(({ species }) => species)}::text[], ${nights.map(({ night }) => night)}::date[],
        ${spells.map(({ from }) => toIso(from))}::timestamptz[], ${spells.map(({ to }) => toIso(to))}::timestamptz[])
        as a (point_id, species, night, low, high)
    ), counted as (
      select a.point_id, a.night, a.species, v.visits, s.least, v.sum_of_peaks, s.photos from asked a
      cross join lateral (
        select coalesce(max(head), 0) as least, count(*) as photos from sightings
        where point_id = a.point_id and species = a.species and taken_at >= a.low and taken_at < a.high
      ) s
      cross join lateral (
        select count(*) as visits, coalesce(sum(peak), 0) as sum_of_peaks from visits
        where point_id = a.point_id and species = a.species and night = a.night
      ) v
      where s.photos > 0 or v.visits > 0
    ), gone as (
      delete from nights n using asked a
      where n.point_id = a.point_id and n.night = a.night and n.species = a.species
        and not exists (select from counted c
          where c.point_id = a.point_id and c.night = a.night and c.species = a.species)
    )
    insert into nights (point_id, night, species, visits, least, sum_of_peaks, photos)
    select point_id, night, species, visits, least, sum_of_peaks, photos from counted
    on conflict (point_id, night, species) do update set visits = excluded.visits, least = excluded.least,
      sum_of_peaks = excluded.sum_of_peaks, photos = excluded.photos`.execute(tx)
}
