import { describe, expect, test } from 'vitest'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import { type PointWeeks, speciesPressure, type WeekSums } from '../../../services/tally/week-pressure.ts'

const WATCHED = { nights: 7, watchedNights: 7, visitsNotWatched: 0, squaredPeaks: 0, largestPeak: 0 }

/** A week of visits spread as evenly as they can be, each of three head. */
const weekWith = (visits: number): WeekSums => ({
  ...WATCHED,
  visits,
  animalVisits: visits * 3,
  squares: visits ** 2 / 7,
  squaredPeaks: visits * 9,
  largestPeak: visits > 0 ? 3 : 0,
})

/** Visits in the week shown, the one before, and so on back. */
function point(pointId: number, visits: readonly number[]): PointWeeks {
  return { pointId, weeks: new Map(visits.map((count, back) => [back, weekWith(count)])) }
}

const settings = {
  species: 'camel',
  role: 'feral',
  ratings: DEFAULT_RATINGS.camel,
  everyPoint: false,
} as const
const pressure = (points: readonly PointWeeks[], everyPoint = false) =>
  speciesPressure(points, { ...settings, everyPoint })

describe('one species over all points', () => {
  test('the four weeks before are taken together, and told apart from the last one', () => {
    const [at] = pressure([point(1, [14, 3, 4, 3, 3]), point(2, [5, 5, 5, 5, 5])]).points
    expect(at!.fourWeeks.before).toMatchObject({ visits: 13, watchedNights: 28 })
    expect(at!.lastWeek.before).toMatchObject({ visits: 3, watchedNights: 7 })
    expect(at!.fourWeeks.verdict).toBe('more')
  })

  test('a week older than the four is in the dispersion and the mean peak, and in no comparison', () => {
    const [at] = pressure([point(1, [2, 0, 0, 0, 0, 50])]).points
    expect(at!.fourWeeks.before.visits).toBe(0)
    expect(at!.meanPeak).toEqual({ head: 3, from: 'this point' })
  })

  test('where a point has no past the station’s mean peak stands in, and says so', () => {
    const { points } = pressure([point(1, [0, 1]), point(2, [4])])
    expect(points.map(({ meanPeak }) => meanPeak)).toEqual([
      { head: 3, from: 'this point' },
      { head: 3, from: 'the station' },
    ])
  })

  test('with too few nights to know the dispersion from, nothing is called a change', () => {
    const { dispersion, points } = pressure([point(1, [40, 0])])
    expect(dispersion).toBeNull()
    expect(points[0]!.lastWeek.verdict).toBe('too few nights to tell')
  })

  test('a point that was not watched has no rate, no load and no place', () => {
    const weeks = new Map([[0, { ...weekWith(0), nights: 0, watchedNights: 0, visitsNotWatched: 2 }]])
    const { points } = pressure([{ pointId: 1, weeks }, point(2, [3, 3]), point(3, [4, 4])])
    expect(points[0]).toMatchObject({
      totals: { visitsNotWatched: 2 },
      visitRate: null,
      animalRate: null,
      load: null,
      ranked: null,
    })
  })

  test('points where it was not seen are left out unless every point is asked for; the others stay the same', () => {
    const all = [point(1, [14, 3, 4, 3, 3]), point(2, [0, 0, 0, 0, 0]), point(3, [5, 5, 5, 5, 5])]
    const seen = pressure(all).points
    const every = pressure(all, true).points
    expect(seen.map(({ pointId }) => pointId)).toEqual([1, 3])
    expect(every.filter(({ pointId }) => pointId !== 2)).toEqual(seen)
    expect(every[1]!.visitRate).toMatchObject({ low: 0, rate: 0 })
  })

  test('few nights draw a rate further towards the station’s than many', () => {
    const short = { ...weekWith(7), nights: 2, watchedNights: 2, squares: 49 / 2 }
    const { points } = pressure([
      { pointId: 1, weeks: new Map([[0, short]]) },
      point(2, [25, 25]),
      point(3, [1, 1]),
      point(4, [5, 5]),
    ])
    expect(points[0]!.ranked!.ownShare).toBeLessThan(points[1]!.ranked!.ownShare)
    expect(points[0]!.ranked!.shrunk).toBeLessThan(points[0]!.ranked!.raw)
  })
})
