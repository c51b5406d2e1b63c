import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nightRowsOf } from '../../../services/tally/night-rows.ts'
import { nightOf } from '../../../services/tally/nights.ts'
import { poissonInterval } from '../../../services/tally/poisson-interval.ts'
import { animalVisitRate, visitRate } from '../../../services/tally/rates.ts'
import { NO_NIGHTS, type PointNight, plus, totalOf } from '../../../services/tally/spell-totals.ts'
import { visitsOf } from '../../../services/tally/visits.ts'
import type { NightDate, Zone } from '../../../services/words.ts'
import { chanceFrom } from './chance.ts'
import { GAP_MINUTES, sightings } from './sightings-arbitrary.ts'

const ADELAIDE = 'Australia/Adelaide' as Zone
const night = (watched: number | null, peaks: number[], date = '2026-11-23'): PointNight => ({
  night: date as NightDate,
  watched,
  peaks,
})

describe('visits per 100 watched nights', () => {
  it('count a night watched by half as half a night', () => {
    const totals = totalOf([night(0.5, [3]), night(1, [2, 5]), night(0.5, [])])
    expect(totals).toMatchObject({ watchedNights: 2, visits: 3, animalVisits: 10 })
    expect(visitRate(totals)!.rate).toBe(150)
  })

  it('have the limits of Garwood', () => {
    for (const visits of [0, 1, 5, 20]) {
      const { low, high } = visitRate({ visits, watchedNights: 7 })!
      const garwood = poissonInterval(visits, 0.07)
      expect(low).toBeCloseTo(garwood.low, 9)
      expect(high).toBeCloseTo(garwood.high, 9)
    }
  })

  it('are not there where nothing was watched, and no animals are not none', () => {
    expect(visitRate(NO_NIGHTS)).toBeNull()
    expect(animalVisitRate(totalOf([night(null, []), night(0, [])]), 4)).toBeNull()
    expect(visitRate(totalOf([night(1, [])]))).toMatchObject({ rate: 0, low: 0 })
  })

  it('leave out a visit of a night that was not watched, and say so', () => {
    expect(totalOf([night(0, [4]), night(1, [2])])).toMatchObject({ visits: 1, visitsNotWatched: 1 })
  })

  it('have wider limits the more the visits come in clumps', () => {
    const chance = visitRate({ visits: 6, watchedNights: 7 })!
    const clumped = visitRate({ visits: 6, watchedNights: 7 }, { dispersion: 2 })!
    expect(clumped.rate).toBe(chance.rate)
    expect(clumped.low).toBeLessThan(chance.low)
    expect(clumped.high).toBeGreaterThan(chance.high)
  })
})

describe('animal-visits per watched night', () => {
  it('with single animals only are visits', () => {
    const totals = totalOf([night(1, [1, 1]), night(1, [1])])
    const animals = animalVisitRate(totals, 1)!
    const visits = visitRate(totals)!
    expect([animals.rate * 100, animals.low * 100, animals.high * 100]).toEqual([
      visits.rate,
      expect.closeTo(visits.low, 9),
      expect.closeTo(visits.high, 9),
    ])
  })

  it('where none came may still be a mob of the usual size: Garwood’s 3.688879 visits of four', () => {
    expect(animalVisitRate(totalOf([night(1, [])]), 4)!.high).toBeCloseTo(4 * 3.688879, 5)
  })
})

const nights = fc.array(
  fc.record({
    watched: fc.option(fc.constantFrom(0, 0.25, 0.5, 1), { nil: null }),
    peaks: fc.array(fc.integer({ min: 1, max: 8 }), { maxLength: 4 }),
  }),
  { minLength: 7, maxLength: 7 },
)

describe('a week', () => {
  it('is the sum of its nights, in whatever order they are added', () => {
    fc.assert(
      fc.property(nights, fc.integer({ min: 0, max: 7 }), (seven, cut) => {
        const all = seven.map(({ watched, peaks }) => night(watched, peaks))
        const parts = plus(totalOf(all.slice(cut)), totalOf(all.slice(0, cut)))
        expect(parts).toEqual(totalOf(all))
        expect(totalOf([...all].reverse())).toEqual(totalOf(all))
      }),
    )
  })

  it('has the same rates in whatever order its photos came in', () => {
    fc.assert(
      fc.property(
        sightings(0).chain((all) =>
          fc.tuple(
            fc.constant(all),
            fc.shuffledSubarray(all, { minLength: all.length, maxLength: all.length }),
          ),
        ),
        ([all, shuffled]) => {
          expect(ratesFrom(shuffled)).toEqual(ratesFrom(all))
        },
      ),
    )
  })

  it('counts the visits and animal-visits that its nights’ rows count', () => {
    fc.assert(
      fc.property(sightings(1), (all) => {
        const visits = visitsOf(all, GAP_MINUTES)
        const rows = nightRowsOf({ sightings: all, visits, zone: ADELAIDE })
        expect(totalsFrom(all)).toMatchObject({
          visits: rows.reduce((sum, row) => sum + row.visits, 0),
          animalVisits: rows.reduce((sum, row) => sum + row.sumOfPeaks, 0),
        })
      }),
    )
  })
})

function totalsFrom(all: Parameters<typeof visitsOf>[0]) {
  return totalOf(
    visitsOf(all, GAP_MINUTES).map(({ startedAt, peak }) => night(1, [peak], nightOf(startedAt, ADELAIDE))),
  )
}
function ratesFrom(all: Parameters<typeof visitsOf>[0]) {
  return [visitRate(totalsFrom(all)), animalVisitRate(totalsFrom(all), 2)]
}

describe('Garwood’s limits', () => {
  it('cover the true rate in at least 95 of 100 cases, wherever it lies, by summing the Poisson mass', () => {
    for (let mean = 0.05; mean < 60; mean *= 1.07) {
      let covered = 0
      let mass = Math.exp(-mean)
      for (let count = 0; count < 150; count++) {
        const { low, high } = visitRate({ visits: count, watchedNights: 100 })!
        if (low <= mean && mean <= high) covered += mass
        mass *= mean / (count + 1)
      }
      expect(covered).toBeGreaterThanOrEqual(0.95)
    }
  })
})

describe('weighted gamma limits', () => {
  const RUNS = 1000
  // Mean peak of mobs of 1 to 8, each size as likely.
  const MEAN_PEAK = 4.5

  it.each([
    [1, 2],
    [1, 7],
    [1, 30],
    [2, 7],
    [2, 30],
    [3, 7],
    [3, 30],
  ])(
    'cover in at least 93 of 100 weeks: dispersion %d, %d visits a week on the average',
    (dispersion, mean) => {
      const chance = chanceFrom(71 * dispersion + mean)
      let covered = 0
      for (let run = 0; run < RUNS; run++) {
        const peaks = Array.from({ length: 7 }, () => chance.count(mean / 7, dispersion)).map((visits) =>
          Array.from({ length: visits }, () => chance.whole(1, 8)),
        )
        const { low, high } = animalVisitRate(totalOf(peaks.map((of) => night(1, of))), MEAN_PEAK, {
          dispersion,
        })!
        const truth = (mean / 7) * MEAN_PEAK
        if (low <= truth && truth <= high) covered++
      }
      console.log(`animal-visits, dispersion ${dispersion}, ${mean} a week: ${covered} of ${RUNS} covered`)
      expect(covered / RUNS).toBeGreaterThanOrEqual(0.93)
    },
  )
})

describe('limits widened by the dispersion', () => {
  const RUNS = 1500

  it.each([
    [1, 2],
    [2, 2],
    [2, 7],
    [3, 7],
    [3, 30],
  ])(
    'cover in at least 93 of 100 weeks: dispersion %d, %d visits a week on the average',
    (dispersion, mean) => {
      const chance = chanceFrom(31 * dispersion + mean)
      let covered = 0
      for (let run = 0; run < RUNS; run++) {
        const visits = Array.from({ length: 7 }, () => chance.count(mean / 7, dispersion)).reduce(
          (a, b) => a + b,
        )
        const { low, high } = visitRate({ visits, watchedNights: 7 }, { dispersion })!
        const truth = (100 * mean) / 7
        if (low <= truth && truth <= high) covered++
      }
      console.log(`visits, dispersion ${dispersion}, ${mean} a week: ${covered} of ${RUNS} covered`)
      expect(covered / RUNS).toBeGreaterThanOrEqual(0.93)
    },
  )
})
