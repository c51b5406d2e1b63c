/** A week's grazing pressure, species by species: the sums of each point, compared, ranked and weighed. Noon to noon. */
import type { Role, Species } from '../words.ts'
import { type PointChange, verdictsOf } from './change-verdicts.ts'
import { type Dispersion, dispersionOfWeeks, type WeekVisits } from './dispersion.ts'
import { type Load, loadOf, type Ratings } from './load.ts'
import type { RateInterval } from './poisson-interval.ts'
import { animalVisitRate, visitRate } from './rates.ts'
import { ratePrior, type ShrunkRate, shrunkRate } from './shrinkage.ts'
import { NO_NIGHTS, plus, type SpellTotals } from './spell-totals.ts'

/** The week shown and the one before, and how many there are before it to compare with. */
const LAST_WEEK = 1
const WEEKS_BEFORE = [1, 2, 3, 4]

/** A point's sums, by weeks before the one shown (0); a week in which nothing was watched has 0 nights. */
export interface PointWeeks {
  readonly pointId: number
  readonly weeks: ReadonlyMap<number, WeekSums>
}

export interface WeekSums extends WeekVisits {
  readonly animalVisits: number
  readonly visitsNotWatched: number
  /** Told of the week shown only; 0 in the others. */
  readonly squaredPeaks: number
  readonly largestPeak: number
}

export interface Compared extends PointChange {
  readonly before: SpellTotals
}

/** The mean peak of a visit, where it was seen before. */
export interface MeanPeak {
  readonly head: number
  readonly from: 'this point' | 'the station'
}

export interface SpeciesAtPoint {
  readonly pointId: number
  readonly totals: SpellTotals
  /** Visits per 100 watched nights, and animal-visits per watched night; null where nothing was watched. */
  readonly visitRate: RateInterval | null
  readonly animalRate: RateInterval | null
  readonly meanPeak: MeanPeak | null
  readonly lastWeek: Compared
  readonly fourWeeks: Compared
  readonly ranked: ShrunkRate | null
  /** Null where nothing was watched. */
  readonly load: Load | null
}

export interface SpeciesPressure {
  readonly species: Species
  readonly role: Role
  /** Null: too few nights to tell. */
  readonly dispersion: Dispersion | null
  /** In the order given: those where it was seen in the five weeks, or every point where they were all asked for. */
  readonly points: readonly SpeciesAtPoint[]
}

interface Asked {
  readonly species: Species
  readonly role: Role
  readonly ratings: Ratings
  readonly everyPoint: boolean
}

/** ONE species over all points. The weeks that the dispersion is told from are all that are given. */
export function speciesPressure(
  points: readonly PointWeeks[],
  { species, role, ratings, everyPoint }: Asked,
): SpeciesPressure {
  const dispersion = dispersionOfWeeks(points.flatMap(({ weeks }) => [...weeks.values()]))
  const factor = dispersion?.factor ?? 1
  const now = points.map((point) => spellOf(point, [0]))
  const lastWeek = compare(
    points.map((point) => spellOf(point, [LAST_WEEK])),
    { now, dispersion },
  )
  const fourWeeks = compare(
    points.map((point) => spellOf(point, WEEKS_BEFORE)),
    { now, dispersion },
  )
  const prior = ratePrior(now, factor)
  const ofStation = meanPeakOf(points, 'the station')
  return {
    species,
    role,
    dispersion,
    points: points.flatMap((point, i) => {
      const totals = now[i]!
      // Intervals are the dear part, and most species are seen at few points.
      if (!everyPoint && !wasSeen(totals, fourWeeks[i]!.before)) return []
      const meanPeak = meanPeakOf([point], 'this point') ?? ofStation
      const animalRate = animalVisitRate(totals, meanPeak?.head ?? null, { dispersion: factor })
      return [
        {
          pointId: point.pointId,
          totals,
          visitRate: visitRate(totals, { dispersion: factor }),
          animalRate,
          meanPeak,
          lastWeek: lastWeek[i]!,
          fourWeeks: fourWeeks[i]!,
          ranked: prior === null ? null : shrunkRate(totals, prior, factor),
          load: animalRate && loadOf(animalRate, ratings),
        },
      ]
    }),
  }
}

const wasSeen = (now: SpellTotals, before: SpellTotals) =>
  now.visits + now.visitsNotWatched + before.visits + before.visitsNotWatched > 0

function compare(
  before: readonly SpellTotals[],
  { now, dispersion }: { readonly now: readonly SpellTotals[]; readonly dispersion: Dispersion | null },
): Compared[] {
  const verdicts = verdictsOf(
    now.map((totals, i) => ({ now: totals, before: before[i]! })),
    dispersion?.factor ?? null,
  )
  return verdicts.map((verdict, i) => ({ ...verdict, before: before[i]! }))
}

function spellOf({ weeks }: PointWeeks, back: readonly number[]): SpellTotals {
  return back.reduce((sum, week) => plus(sum, weeks.get(week) ?? NO_NIGHTS), NO_NIGHTS)
}

/** Of the weeks before the one shown; of a station that has none yet, nothing. */
function meanPeakOf(points: readonly PointWeeks[], from: MeanPeak['from']): MeanPeak | null {
  let visits = 0
  let animals = 0
  for (const { weeks } of points) {
    for (const [back, week] of weeks) {
      if (back === 0) continue
      visits += week.visits
      animals += week.animalVisits
    }
  }
  return visits === 0 ? null : { head: animals / visits, from }
}
