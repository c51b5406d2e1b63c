/** From the ledger's sums to the weeks of each point that the pure core takes. */
import type { PressureFacts } from '../store/pressure.ts'
import type { PointWeeks, WeekSums } from '../tally/week-pressure.ts'
import type { Species } from '../words.ts'

const NOT_WATCHED: WeekSums = {
  visits: 0,
  nights: 0,
  watchedNights: 0,
  squares: 0,
  animalVisits: 0,
  visitsNotWatched: 0,
  squaredPeaks: 0,
  largestPeak: 0,
}

/** ONE species at every point, in the order of the points. */
export function pointsWeeks(facts: PressureFacts, species: Species): PointWeeks[] {
  const weeks = new Map<number, Map<number, WeekSums>>(facts.points.map(({ id }) => [id, new Map()]))
  const add = (pointId: number, back: number, sums: Partial<WeekSums>) => {
    const of = weeks.get(pointId)
    of?.set(back, { ...NOT_WATCHED, ...of.get(back), ...sums })
  }
  for (const { pointId, weeksBack, nights, watchedNights } of facts.watched)
    add(pointId, weeksBack, { nights, watchedNights })
  for (const { pointId, weeksBack, species: of, ...sums } of facts.visits)
    if (of === species) add(pointId, weeksBack, sums)
  for (const { pointId, species: of, squaredPeaks, largestPeak } of facts.peaks)
    if (of === species) add(pointId, 0, { squaredPeaks, largestPeak })
  return facts.points.map(({ id }) => ({ pointId: id, weeks: weeks.get(id)! }))
}
