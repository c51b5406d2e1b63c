/** Reads visits and nights. */
import type { Selectable } from 'kysely'
import type { Instant, NightDate, Species } from '../words.ts'
import { toInstant } from './instants.ts'
import { heardUpTo } from './last-contact.ts'
import type { Ledger } from './open.ts'
import type { PagePlace } from './still-views.ts'
import type { NightsTable, VisitsTable } from './tables.ts'

export type VisitView = Selectable<VisitsTable> & { readonly point_name: string }

/** Visits that fit, newest first, from after `place`. */
export async function listVisits(
  ledger: Ledger,
  filter: {
    readonly pointId?: number | undefined
    readonly species?: Species | undefined
    readonly from?: NightDate | undefined
    readonly to?: NightDate | undefined
  },
  { place, limit }: { readonly place: PagePlace | null; readonly limit: number },
): Promise<VisitView[]> {
  let query = ledger
    .selectFrom('visits')
    .innerJoin('points', 'points.id', 'visits.point_id')
    .selectAll('visits')
    .select('points.name as point_name')
  if (filter.pointId !== undefined) query = query.where('point_id', '=', filter.pointId)
  if (filter.species !== undefined) query = query.where('species', '=', filter.species)
  if (filter.from !== undefined) query = query.where('night', '>=', filter.from)
  if (filter.to !== undefined) query = query.where('night', '<=', filter.to)
  if (place !== null) {
    query = query.where((e) => e(e.refTuple('started_at', 'visits.id'), '<', e.tuple(place.at, place.id)))
  }
  return await query.orderBy('started_at', 'desc').orderBy('visits.id', 'desc').limit(limit).execute()
}

export interface PointNights {
  readonly rows: ReadonlyArray<Selectable<NightsTable>>
  readonly watchedSeconds: ReadonlyMap<NightDate, number>
  /** The cameras that stand here now. */
  readonly cameras: ReadonlyArray<{
    readonly lastContactAt: Instant | null
    readonly expectedSilenceHours: number
  }>
}

/** One point's kept night rows and effort, `from` to `to`, both included. */
export async function readPointNights(
  ledger: Ledger,
  pointId: number,
  { from, to, now }: { readonly from: NightDate; readonly to: NightDate; readonly now: Instant },
): Promise<PointNights> {
  const [rows, effort, cameras] = await Promise.all([
    ledger
      .selectFrom('nights')
      .selectAll()
      .where('point_id', '=', pointId)
      .where('night', '>=', from)
      .where('night', '<=', to)
      .orderBy('night')
      .execute(),
    ledger
      .selectFrom('effort')
      .selectAll()
      .where('point_id', '=', pointId)
      .where('night', '>=', from)
      .where('night', '<=', to)
      .execute(),
    ledger
      .selectFrom('cameras')
      .select(['id', 'last_contact_at', 'expected_silence_hours'])
      .where('point_id', '=', pointId)
      .where('is_up', '=', true)
      .execute()
      .then((rows) => heardUpTo(ledger, rows, now)),
  ])
  return {
    rows,
    watchedSeconds: new Map(effort.map((row) => [row.night, row.watched_seconds])),
    cameras: cameras.map((row) => ({
      lastContactAt: row.last_contact_at && toInstant(row.last_contact_at),
      expectedSilenceHours: row.expected_silence_hours,
    })),
  }
}
