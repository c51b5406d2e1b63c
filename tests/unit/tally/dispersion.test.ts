import { describe, expect, it } from 'vitest'
import { compareRates } from '../../../services/tally/change.ts'
import { verdictsOf } from '../../../services/tally/change-verdicts.ts'
import { dispersionOf, type NightVisits } from '../../../services/tally/dispersion.ts'
import { nightsBetween } from '../../../services/tally/nights.ts'
import type { NightDate } from '../../../services/words.ts'
import { type Chance, chanceFrom } from './chance.ts'

const POINTS = 10
/** Monday of the first week to Sunday of the eighth. */
const EIGHT_WEEKS = nightsBetween('2026-09-28' as NightDate, '2026-11-22' as NightDate)
const THIS_WEEK = '2026-11-16'
const FOUR_BEFORE = '2026-10-19'

/** Ten points from half to one and a half times `perNight`; a tenth of the nights partly watched. */
function station(chance: Chance, perNight: number, dispersion: number): NightVisits[] {
  return Array.from({ length: POINTS }, (_, pointId) =>
    EIGHT_WEEKS.map((night): NightVisits => {
      const watched = chance.uniform() < 0.9 ? 1 : chance.uniform()
      const mean = perNight * (0.5 + pointId / (POINTS - 1)) * watched
      return { pointId, night, watched, visits: chance.count(mean, dispersion) }
    }),
  ).flat()
}

const countOf = (nights: readonly NightVisits[]) => ({
  visits: nights.reduce((sum, { visits }) => sum + visits, 0),
  watchedNights: nights.reduce((sum, { watched }) => sum + watched!, 0),
})
const pointsOf = (nights: readonly NightVisits[]) =>
  Array.from({ length: POINTS }, (_, point) => {
    const own = nights.filter(({ pointId }) => pointId === point)
    return {
      now: countOf(own.filter(({ night }) => night >= THIS_WEEK)),
      before: countOf(own.filter(({ night }) => night >= FOUR_BEFORE && night < THIS_WEEK)),
    }
  })

describe('the dispersion factor', () => {
  it('is Pearson’s chi-square over its degrees of freedom, by hand', () => {
    // One visit a night on the average: squares 16 + 4 x 1 and 36 + 6 x 1, over six degrees each.
    const week = (pointId: number, visits: number[]) =>
      visits.map((of, i): NightVisits => ({ pointId, night: EIGHT_WEEKS[i]!, watched: 1, visits: of }))
    const nights = [...week(1, [5, 0, 0, 0, 0, 1, 1]), ...week(2, [7, 0, 0, 0, 0, 0, 0])]
    expect(dispersionOf(nights)).toEqual({ factor: (20 + 42) / 12, degrees: 12 })
  })

  it('is never under 1: visits that keep time are no better witnesses than those that come by chance', () => {
    const everyNight = EIGHT_WEEKS.map((night): NightVisits => ({ pointId: 1, night, watched: 1, visits: 1 }))
    expect(dispersionOf(everyNight)).toEqual({ factor: 1, degrees: 48 })
  })

  it('is not told from a point-week or less, nor from weeks without a visit or nights not watched', () => {
    const night = (i: number, visits: number, watched: number | null = 1): NightVisits => ({
      pointId: 1,
      night: EIGHT_WEEKS[i]!,
      watched,
      visits,
    })
    expect(dispersionOf(Array.from({ length: 7 }, (_, i) => night(i, 1)))).toBeNull()
    expect(dispersionOf(EIGHT_WEEKS.map((_, i) => night(i, 0)))).toBeNull()
    expect(dispersionOf(EIGHT_WEEKS.map((_, i) => night(i, 1, i % 2 ? 0 : null)))).toBeNull()
  })

  it.each([
    [1, 0.3],
    [2, 0.3],
    [3, 0.3],
    [2, 1],
    [3, 3],
  ])('finds a factor of %d at %d visits a night, on the average over stations', (dispersion, perNight) => {
    const chance = chanceFrom(11)
    const factors = Array.from(
      { length: 150 },
      () => dispersionOf(station(chance, perNight, dispersion))!.factor,
    )
    const mean = factors.reduce((sum, factor) => sum + factor, 0) / factors.length
    console.log(`dispersion ${dispersion} at ${perNight} a night: ${mean.toFixed(2)} found`)
    expect(Math.abs(mean - dispersion)).toBeLessThan(0.15 * dispersion)
  })
})

describe('changes on stations where nothing changed', () => {
  const STATIONS = 120
  it.each([
    [1, 0.3],
    [1, 1],
    [2, 0.3],
    [2, 1],
    [3, 0.3],
    [3, 1],
  ])(
    'dispersion %d, %d visits a night: limits hold in at least 93 of 100, few weeks say otherwise',
    (dispersion, perNight) => {
      const chance = chanceFrom(5)
      let covered = 0
      let points = 0
      let falseWeeks = 0
      for (let run = 0; run < STATIONS; run++) {
        const nights = station(chance, perNight, dispersion)
        const found = dispersionOf(nights)!
        const changes = pointsOf(nights)
        for (const { now, before } of changes) {
          const { low, high } = compareRates(now, before, { dispersion: found.factor })
          points++
          if (low <= 1 && (high === null || high >= 1)) covered++
        }
        const verdicts = verdictsOf(changes, found.factor).map(({ verdict }) => verdict)
        if (verdicts.includes('more') || verdicts.includes('fewer')) falseWeeks++
      }
      console.log(
        `dispersion ${dispersion}, ${perNight} a night: ${covered} of ${points} ratios covered, ` +
          `${falseWeeks} of ${STATIONS} weeks with a false change`,
      )
      expect(covered / points).toBeGreaterThanOrEqual(0.93)
      // The level is 5 of 100 weeks; 12 of 100 is what 120 weeks may show of it by chance.
      expect(falseWeeks / STATIONS).toBeLessThan(0.12)
    },
  )
})
