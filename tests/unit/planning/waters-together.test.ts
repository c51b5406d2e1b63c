/** Head at several waters that were watched unlike: one number, and limits that hold. */
import { describe, expect, it } from 'vitest'
import { animalVisitsTogether } from '../../../services/planning/waters-together.ts'
import { waterUse } from '../../../services/planning/waters-used.ts'
import { animalVisitRate } from '../../../services/tally/rates.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'
import { NO_NIGHTS, type SpellTotals, totalOf } from '../../../services/tally/spell-totals.ts'
import type { NightDate } from '../../../services/words.ts'

const water = (watchedNights: number, peaks: readonly number[]): SpellTotals => ({
  ...NO_NIGHTS,
  watchedNights,
  visits: peaks.length,
  animalVisits: peaks.reduce((sum, peak) => sum + peak, 0),
  squaredPeaks: peaks.reduce((sum, peak) => sum + peak ** 2, 0),
  largestPeak: Math.max(0, ...peaks),
})

describe('waters told together', () => {
  it('of one water are its rate and its limits', () => {
    const one = water(40, [2, 5, 1, 1, 3])
    const told = animalVisitsTogether([one], { meanPeak: 2.4, dispersion: 1.5 })!
    const alone = animalVisitRate(one, 2.4, { dispersion: 1.5 })!
    for (const end of ['low', 'rate', 'high'] as const) expect(told[end]).toBeCloseTo(alone[end], 12)
  })

  it('add up their rates, each by its own nights', () => {
    const told = animalVisitsTogether([water(10, [4, 6]), water(50, [5])], { meanPeak: null })
    expect(told!.rate).toBeCloseTo(10 / 10 + 5 / 50, 12)
  })

  it('leave out a water that nobody watched, and say nothing of none', () => {
    const watched = water(10, [3])
    expect(animalVisitsTogether([watched, water(0, [])], { meanPeak: null })).toEqual(
      animalVisitsTogether([watched], { meanPeak: null }),
    )
    expect(animalVisitsTogether([water(0, [])], { meanPeak: 3 })).toBeNull()
  })

  it('have limits that hold the truth in 95 of 100 seasons or more', () => {
    const draw = drawsFrom(21)
    const waters = [
      { nights: 50, chance: 0.4 },
      { nights: 20, chance: 0.15 },
      { nights: 8, chance: 0.3 },
    ]
    const meanPeak = 2.5
    const truth = waters.reduce((sum, { chance }) => sum + chance * meanPeak, 0)
    const trials = 2000
    let held = 0
    for (let trial = 0; trial < trials; trial++) {
      const told = animalVisitsTogether(
        waters.map(({ nights, chance }) => {
          const peaks: number[] = []
          for (let night = 0; night < nights; night++) if (draw(1000) < chance * 1000) peaks.push(1 + draw(4))
          return water(nights, peaks)
        }),
        { meanPeak },
      )!
      if (told.low <= truth && truth <= told.high) held++
    }
    // Weighted gamma limits hold at least what they say (Fay & Feuer 1997, section 4); 1 % is the simulation's own.
    expect(held / trials).toBeGreaterThan(0.94)
    console.log(`limits of waters together hold the truth in ${((100 * held) / trials).toFixed(1)} of 100`)
  })
})

describe('whether a species uses a water', () => {
  const night = (watched: number, peaks: readonly number[] = []) => ({
    night: '2026-11-01' as NightDate,
    watched,
    peaks,
  })
  it('is seen by any visit, also of a night that was not watched', () => {
    expect(waterUse(totalOf([night(0, [2])]))).toBe('seen')
    expect(waterUse(totalOf([night(1, [1])]))).toBe('seen')
  })
  it('is not known under 14 nights’ worth of watching', () => {
    expect(waterUse(totalOf(Array(27).fill(night(0.5))))).toBe('not watched enough')
    expect(waterUse(totalOf(Array(28).fill(night(0.5))))).toBe('not seen')
  })
})
