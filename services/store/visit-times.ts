/** When visits of species to a point began, and which nights were watched there: what the hours of the day are told from. */
import type { Instant, NightDate, Species } from '../words.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface VisitTimes {
  /** In order of time. */
  readonly visits: ReadonlyArray<{
    readonly species: Species
    readonly night: NightDate
    readonly startedAt: Instant
  }>
  readonly watchedNights: readonly NightDate[]
}

export async function readVisitTimes(
  ledger: Ledger,
  asked: {
    readonly pointId: number
    readonly species: readonly Species[]
    readonly from: NightDate
    readonly to: NightDate
  },
): Promise<VisitTimes> {
  const [visits, effort] = await Promise.all([
    ledger
      .selectFrom('visits')
      .select(['species', 'night', 'started_at'])
      .where('point_id', '=', asked.pointId)
      .where('species', 'in', asked.species)
      .where('night', '>=', asked.from)
      .where('night', '<=', asked.to)
      .orderBy('started_at')
      .execute(),
    ledger
      .selectFrom('effort')
      .select('night')
      .where('point_id', '=', asked.pointId)
      .where('night', '>=', asked.from)
      .where('night', '<=', asked.to)
      .where('watched_seconds', '>', 0)
      .orderBy('night')
      .execute(),
  ])
  return {
    visits: visits.map(({ species, night, started_at }) => ({
      species,
      night,
      startedAt: toInstant(started_at),
    })),
    watchedNights: effort.map(({ night }) => night),
  }
}
