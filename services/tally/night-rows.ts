/** What one night at one point comes to, for one species. */
import type { NightDate, Zone } from '../words.ts'
import { nightOf } from './nights.ts'
import type { Sighting, Visit } from './visits.ts'

export interface NightRow {
  readonly night: NightDate
  /**
   * Visits whose first still is in the night. 0 when all that was seen belongs to a visit that began before
   * noon, in the night before.
   */
  readonly visits: number
  /** The largest head in one still of the night: at least so many were there. A later still never lowers it. */
  readonly least: number
  /** Animal-visits. May fall when a late still joins two visits into one. */
  readonly sumOfPeaks: number
  /** Stills of the night with that species on them. */
  readonly photos: number
}

/**
 * One row for every night with a sighting, in order, of ONE species at ONE point. A sighting counts in its
 * own night, a visit in the night of its first still. To renew some nights only, give the sightings of
 * those nights and the visits that begin in them.
 */
export function nightRowsOf(given: {
  readonly sightings: readonly Sighting[]
  readonly visits: readonly Pick<Visit, 'startedAt' | 'peak'>[]
  readonly zone: Zone
}): NightRow[] {
  const rows = new Map<NightDate, { visits: number; least: number; sumOfPeaks: number; photos: number }>()
  const rowOf = (night: NightDate) => {
    const row = rows.get(night) ?? { visits: 0, least: 0, sumOfPeaks: 0, photos: 0 }
    rows.set(night, row)
    return row
  }
  for (const { at, head } of given.sightings) {
    if (head <= 0) continue
    const row = rowOf(nightOf(at, given.zone))
    row.least = Math.max(row.least, head)
    row.photos += 1
  }
  for (const { startedAt, peak } of given.visits) {
    const row = rowOf(nightOf(startedAt, given.zone))
    row.visits += 1
    row.sumOfPeaks += peak
  }
  return [...rows].map(([night, row]) => ({ night, ...row })).sort((a, b) => (a.night < b.night ? -1 : 1))
}
