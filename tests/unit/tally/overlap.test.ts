import { describe, expect, it } from 'vitest'
import { binomialInterval } from '../../../services/tally/binomial-interval.ts'
import { FULL_CIRCLE, vonMisesDensity } from '../../../services/tally/circular-density.ts'
import { LEAST_NIGHTS, nightBootstrap } from '../../../services/tally/night-bootstrap.ts'
import { type NightOfTwo, overlapOf } from '../../../services/tally/overlap.ts'
import { type Chance, chanceFrom } from './chance.ts'

/** Parts of a species' visits: how many of all, around which hour, how close together. */
type Habit = ReadonlyArray<readonly [share: number, hour: number, concentration: number]>

const MINUTES = 1440
/** No density of these habits reaches it. */
const ABOVE_ALL = 1
const at = (hour: number) => (hour / 24) * FULL_CIRCLE
const densityOf = (habit: Habit) =>
  Array.from({ length: MINUTES }, (_, minute) =>
    habit.reduce(
      (sum, [share, hour, concentration]) =>
        sum + share * vonMisesDensity(at(minute / 60) - at(hour), concentration),
      0,
    ),
  )
const trueOverlap = (one: number[], other: number[]) =>
  (one.reduce((sum, of, minute) => sum + Math.min(of, other[minute]!), 0) * FULL_CIRCLE) / MINUTES

/** One or more visits a night, each at a minute drawn from the density by rejection. */
function nightFrom(density: number[], visitsANight: number, chance: Chance): number[] {
  return Array.from({ length: 1 + chance.count(visitsANight - 1) }, () => {
    for (;;) {
      const minute = chance.whole(0, MINUTES - 1)
      if (chance.uniform() * ABOVE_ALL < density[minute]!) return at(minute / 60)
    }
  })
}

const morningAndEvening: Habit = [
  [0.5, 9, 4],
  [0.5, 18, 4],
]
const afterDark: Habit = [[1, 20, 3]]
const late: Habit = [[1, 22, 3]]
const hardlyLater: Habit = [[1, 20.7, 3]]

describe('the overlap of two species', () => {
  const night = (one: readonly number[], other: readonly number[]): NightOfTwo => ({ one, other })
  const tenNights = (one: number, other: number) =>
    Array.from({ length: 10 }, (_, i) => night([at(one + i / 10)], [at(other + i / 10)]))

  it('is 1 for the same hours, 0 for hours that never meet', () => {
    expect(overlapOf(tenNights(6, 6), { seed: 1 })!.overlap).toBeCloseTo(1, 9)
    expect(overlapOf(tenNights(6, 18), { seed: 1 })!.overlap).toBeLessThan(0.01)
  })

  it('is the same whichever is named first', () => {
    const nights = tenNights(6, 8)
    const turned = nights.map(({ one, other }) => night(other, one))
    expect(overlapOf(turned, { seed: 1 })!.overlap).toBeCloseTo(overlapOf(nights, { seed: 1 })!.overlap, 12)
  })

  it('is not told under ten visits of either, nor how sure it is under 28 nights', () => {
    expect(overlapOf(tenNights(6, 8).slice(1), { seed: 1 })).toBeNull()
    const quiet = (nights: number) => Array.from({ length: nights - 10 }, () => night([], []))
    const settings = { seed: 1, draws: 20 }
    expect(overlapOf([...tenNights(6, 8), ...quiet(LEAST_NIGHTS - 1)], settings)!.interval).toBeNull()
    expect(overlapOf([...tenNights(6, 8), ...quiet(LEAST_NIGHTS)], settings)!.interval).not.toBeNull()
  })

  it('has the same interval for the same seed', () => {
    const chance = chanceFrom(2)
    const density = densityOf(afterDark)
    const nights = Array.from({ length: 30 }, () =>
      night(nightFrom(density, 2, chance), nightFrom(density, 2, chance)),
    )
    const intervalOf = (seed: number) => overlapOf(nights, { seed, draws: 100 })!.interval
    expect(intervalOf(7)).toEqual(intervalOf(7))
    expect(intervalOf(8)).not.toEqual(intervalOf(7))
  })

  it('is told less surely from nights that differ than from as many visits spread evenly', () => {
    const clumped = Array.from({ length: 28 }, (_, i) => night(Array(4).fill(at(i % 2 ? 6 : 18)), [at(6)]))
    const even = Array.from({ length: 28 }, () => night([at(6), at(6), at(18), at(18)], [at(6)]))
    const widthOf = (nights: NightOfTwo[]) => {
      const { low, high } = overlapOf(nights, { seed: 1, draws: 200 })!.interval!
      return high - low
    }
    expect(widthOf(clumped)).toBeGreaterThan(2 * widthOf(even))
  })
})

describe('the bootstrap over nights', () => {
  it('gives each draw as many nights as there are', () => {
    nightBootstrap(
      (times) => {
        expect(times.reduce((sum, of) => sum + of, 0)).toBe(40)
        return 0.5
      },
      { nights: 40, seed: 3, most: 1, draws: 50 },
    )
  })

  it('of a mean is as wide as its standard error says', () => {
    // 49 nights of 0 and 49 of 1: standard error 0.5 / root 98 = 0.0505, times 2 x 1.96.
    const { low, high } = nightBootstrap(
      (times) => times.reduce((sum, of, night) => sum + of * (night % 2), 0) / times.length,
      { nights: 98, seed: 4, most: 1, draws: 4000 },
    )!
    expect(high - low).toBeGreaterThan(0.19)
    expect(high - low).toBeLessThan(0.22)
  })
})

describe('limits of the overlap from 56 nights', () => {
  const SIMULATED = 150

  it.each([
    ['morning and evening against after dark', morningAndEvening, afterDark, 1],
    ['after dark against later still', afterDark, late, 2],
    ['after dark against hardly later', afterDark, hardlyLater, 1],
  ] as const)('hold in 95 of 100, 3 more or less: %s', (name, one, other, visitsANight) => {
    const chance = chanceFrom(9)
    const [first, second] = [densityOf(one), densityOf(other)]
    const truth = trueOverlap(first, second)
    let covered = 0
    for (let run = 0; run < SIMULATED; run++) {
      const nights = Array.from({ length: 56 }, () => ({
        one: nightFrom(first, visitsANight, chance),
        other: nightFrom(second, visitsANight, chance),
      }))
      const { low, high } = overlapOf(nights, { seed: run + 1, draws: 100 })!.interval!
      if (low <= truth && truth <= high) covered++
    }
    console.log(`overlap ${truth.toFixed(2)}, ${name}: ${covered} of ${SIMULATED} covered`)
    // So many runs can't tell 95 from 92 or 98 themselves: what they show must allow for one of these.
    const shown = binomialInterval(covered, SIMULATED)
    expect(shown.high).toBeGreaterThan(0.95 - 0.03)
    expect(shown.low).toBeLessThan(0.95 + 0.03)
  })
})
