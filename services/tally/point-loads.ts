/** What ONE species takes from each point over some nights, with limits. */
import { dispersionOf } from './dispersion.ts'
import { type Load, loadOf, type Ratings } from './load.ts'
import { animalVisitRate } from './rates.ts'
import { NO_NIGHTS, type PointNight, plus, type SpellTotals, totalOf } from './spell-totals.ts'

export interface PointLoad {
  readonly pointId: number
  readonly totals: SpellTotals
  /** Null where nothing was watched. */
  readonly load: Load | null
}

/**
 * The dispersion is told from these same nights, 1 where they are too few. The one more visit that a high end allows for
 * weighs no less than the mean peak of all points (rates.ts).
 */
export function pointLoads(
  points: ReadonlyArray<{ readonly pointId: number; readonly nights: readonly PointNight[] }>,
  ratings: Ratings,
): PointLoad[] {
  const dispersion =
    dispersionOf(
      points.flatMap(({ pointId, nights }) =>
        nights.map(({ night, watched, peaks }) => ({ pointId, night, watched, visits: peaks.length })),
      ),
    )?.factor ?? 1
  const totals = points.map(({ nights }) => totalOf(nights))
  const { visits, animalVisits } = totals.reduce(plus, NO_NIGHTS)
  const meanPeak = visits === 0 ? null : animalVisits / visits
  return points.map(({ pointId }, i) => {
    const rate = animalVisitRate(totals[i]!, meanPeak, { dispersion })
    return { pointId, totals: totals[i]!, load: rate && loadOf(rate, ratings) }
  })
}
