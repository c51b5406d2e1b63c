/** Where to expect how many of a species: the points of a target list in their order, before anybody's hand. ONE species. */
import { loadOf, type Ratings } from '../tally/load.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { animalVisitRate } from '../tally/rates.ts'
import { ratePrior, shrunkRate } from '../tally/shrinkage.ts'
import { NO_NIGHTS, type PointNight, plus, type SpellTotals, totalOf } from '../tally/spell-totals.ts'
import { STEPS_A_DAY, whenTheyCome } from '../tally/when-they-come.ts'
import type { Instant } from '../words.ts'
import { hoursOf, shortestHolding } from './window-search.ts'

export interface TargetSightings {
  readonly pointId: number
  readonly nights: readonly PointNight[]
  /** Clock angles at which its visits began (tally/clock-angle.ts). */
  readonly angles: readonly number[]
  readonly lastSeenAt: Instant | null
}

export interface Target {
  readonly pointId: number
  /** Head to expect on a night, with limits; null: not watched. */
  readonly head: RateInterval | null
  /** What it is ranked by: the same drawn towards the station's where nights are few; null: not watched. */
  readonly ranked: number | null
  /** Nights with a visit, of nights that were watched at all. */
  readonly nightsSeen: number
  readonly nightsWatched: number
  /** The shortest hours with half of its visits; null under ten visits. */
  readonly bestHours: { readonly from: number; readonly to: number; readonly hours: number } | null
  readonly lastSeenAt: Instant | null
  /** The largest peak of a visit; 0 without one. */
  readonly largestGroup: number
}

const HALF_OF_THEM = 0.5
const HOURS_A_DAY = 24

/**
 * The points by expected head, most first: visits a night drawn towards the station's mean (tally/shrinkage.ts) times the mean
 * peak of a visit, over the times an animal comes a day. Ties: the larger group, then the later seen, then the lower id.
 * Points that were not watched come last: nobody knows.
 */
export function rankTargets(
  points: readonly TargetSightings[],
  { ratings, dispersion = 1 }: { readonly ratings: Ratings; readonly dispersion?: number },
): Target[] {
  const totals = points.map(({ nights }) => totalOf(nights))
  const station = totals.reduce(plus, NO_NIGHTS)
  const prior = ratePrior(totals, dispersion)
  const { low, high } = ratings.visitsADay
  return points
    .map((point, i): Target => {
      const total = totals[i]!
      const rate = animalVisitRate(total, meanPeak(station), { dispersion })
      const drawn = prior && shrunkRate(total, prior, dispersion)
      const peak = meanPeak(total) ?? meanPeak(station) ?? 0
      return {
        pointId: point.pointId,
        head: rate && loadOf(rate, ratings).head,
        ranked: rate && (drawn === null ? rate.rate : drawn.shrunk * peak) / ((low + high) / 2),
        ...nightsOf(point.nights),
        bestHours: bestHours(point.angles),
        lastSeenAt: point.lastSeenAt,
        largestGroup: Math.max(0, ...point.nights.flatMap(({ peaks }) => peaks)),
      }
    })
    .sort(
      (a, b) =>
        (b.ranked ?? -1) - (a.ranked ?? -1) ||
        b.largestGroup - a.largestGroup ||
        (b.lastSeenAt ?? 0) - (a.lastSeenAt ?? 0) ||
        a.pointId - b.pointId,
    )
}

const meanPeak = ({ visits, animalVisits }: SpellTotals) => (visits === 0 ? null : animalVisits / visits)

function nightsOf(nights: readonly PointNight[]) {
  const watched = nights.filter((night) => night.watched !== null && night.watched > 0)
  return {
    nightsSeen: watched.filter(({ peaks }) => peaks.length > 0).length,
    nightsWatched: watched.length,
  }
}

function bestHours(angles: readonly number[]): Target['bestHours'] {
  const curve = whenTheyCome(angles)
  if (curve === null) return null
  const parts = curve.shareAnHour.map((share) => share / (STEPS_A_DAY / HOURS_A_DAY))
  return hoursOf(shortestHolding(parts, HALF_OF_THEM))
}
