/** The rows of a week's pressure, one a point and species, and what the point's water went to. */
import { toStationTime } from '../station-time.ts'
import type { PressureFacts } from '../store/pressure.ts'
import type { Settings } from '../store/settings.ts'
import { nightsBetween } from '../tally/nights.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { PER_NIGHTS } from '../tally/rates.ts'
import type { Compared, SpeciesAtPoint, SpeciesPressure } from '../tally/week-pressure.ts'
import type { WeekOfNights } from '../tally/weeks.ts'
import type { ComparedAnswer, IntervalAnswer, PressurePoint, PressureRow } from './pressure-shapes.ts'
import { rounded } from './rounded.ts'

const COMPARED_BACK = 4

interface Frame {
  readonly pressures: readonly SpeciesPressure[]
  readonly settings: Settings
  readonly week: WeekOfNights
}

/** In the order of species, inside each as the points are ordered. */
export function rowsOf(facts: PressureFacts, { pressures, settings, week }: Frame): PressureRow[] {
  const nights = nightsBetween(week.from, week.to)
  const byNight = new Map(facts.nights.map((row) => [`${row.pointId} ${row.species} ${row.night}`, row]))
  const peaks = new Map(facts.peaks.map((row) => [`${row.pointId} ${row.species}`, row]))
  return pressures.flatMap(({ species, points }) => {
    const places = placesOf(points)
    const beingRead = pointsBeingRead(facts)
    return points.map((point) => {
      const { pointId, totals } = point
      const seen = peaks.get(`${pointId} ${species}`)
      const rows = nights.map((night) => byNight.get(`${pointId} ${species} ${night}`))
      return {
        pointId,
        species,
        visits: totals.visits,
        visitsNotWatched: totals.visitsNotWatched,
        animalVisits: totals.animalVisits,
        // A photo of a visit that began before the week has no visit in it, and its animals were there.
        largest: Math.max(0, ...rows.map((row) => row?.least ?? 0)),
        firstAt: seen === undefined ? null : toStationTime(seen.firstAt, settings.zone),
        lastAt: seen === undefined ? null : toStationTime(seen.lastAt, settings.zone),
        visitsByNight: rows.map((row) => row?.visits ?? 0),
        leastByNight: rows.map((row) => row?.least ?? 0),
        visitRate: intervalOf(point.visitRate),
        animalRate: intervalOf(point.animalRate),
        meanPeak: point.meanPeak && { ...point.meanPeak, head: rounded(point.meanPeak.head) },
        lastWeek: comparedOf(point.lastWeek, beingRead.has(pointId)),
        fourWeeks: comparedOf(point.fourWeeks, beingRead.has(pointId)),
        ranked: point.ranked && {
          rate: rounded(point.ranked.shrunk * PER_NIGHTS),
          ownShare: rounded(point.ranked.ownShare),
          place: places.get(pointId)!,
        },
        load: point.load && {
          head: intervalOf(point.load.head)!,
          litresADay: intervalOf(point.load.litresADay)!,
          drySheepEquivalents: intervalOf(point.load.drySheepEquivalents)!,
        },
      }
    })
  })
}

/** First is where most come by the rate that is drawn towards the station's; equal ones share a place. */
function placesOf(points: readonly SpeciesAtPoint[]): Map<number, number> {
  const rates = points.flatMap(({ pointId, ranked }) =>
    ranked === null ? [] : [{ pointId, rate: ranked.shrunk }],
  )
  return new Map(
    rates.map(({ pointId, rate }) => [pointId, 1 + rates.filter((other) => other.rate > rate).length]),
  )
}

/** Points of which photos of the five weeks still wait: their nights are watched, and what came is not counted yet. */
function pointsBeingRead({ waiting }: PressureFacts): Set<number> {
  return new Set(waiting.filter(({ weeksBack }) => weeksBack <= COMPARED_BACK).map(({ pointId }) => pointId))
}

function comparedOf({ before, verdict, change, correctedP }: Compared, isBeingRead: boolean): ComparedAnswer {
  const told = (value: number | null | undefined) => (value == null ? null : rounded(value))
  return {
    visits: before.visits,
    watchedNights: rounded(before.watchedNights),
    verdict: isBeingRead ? 'photos still being read' : verdict,
    ratio: told(change?.ratio),
    low: told(change?.low),
    high: told(change?.high),
    p: told(change?.p),
    correctedP: told(correctedP),
  }
}

const intervalOf = (interval: RateInterval | null): IntervalAnswer | null =>
  interval && { low: rounded(interval.low), rate: rounded(interval.rate), high: rounded(interval.high) }

/**
 * Litres a day that feral animals and stock drank at a point: the sums over the species that were seen there in the five
 * weeks. Its range, from all low ends to all high ends, is wider than it need be. Null where nothing was watched.
 */
export function waterOf(
  { pointId, watchedNights }: Pick<PressurePoint, 'pointId' | 'watchedNights'>,
  pressures: readonly SpeciesPressure[],
): PressurePoint['water'] {
  const drunk = (role: 'feral' | 'stock') => {
    if (watchedNights === 0) return null
    const loads = pressures
      .filter((one) => one.role === role)
      .flatMap(({ points }) => points.find((point) => point.pointId === pointId)?.load ?? [])
      .map(({ litresADay }) => litresADay)
    const sum = (end: keyof RateInterval) => loads.reduce((total, load) => total + load[end], 0)
    return intervalOf({ low: sum('low'), rate: sum('rate'), high: sum('high') })
  }
  return { feral: drunk('feral'), stock: drunk('stock') }
}
