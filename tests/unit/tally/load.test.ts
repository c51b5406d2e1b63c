import { describe, expect, it } from 'vitest'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import { loadOf } from '../../../services/tally/load.ts'
import { SPECIES } from '../../../services/words.ts'

const { cattle } = DEFAULT_RATINGS

describe('what a species takes from a point', () => {
  // Burton 1965: 45 litres on the average, 60 at the peak; landscape board: 8 to 10 dry sheep equivalents.
  it('runs from the low end with the low rating to the high end with the high one', () => {
    expect(loadOf({ low: 10, rate: 20, high: 30 }, cattle)).toEqual({
      head: { low: 10, rate: 20, high: 30 },
      litresADay: { low: 450, rate: 1050, high: 1800 },
      drySheepEquivalents: { low: 80, rate: 180, high: 300 },
    })
  })

  it('counts an animal that comes in every other day as two head', () => {
    const everyOther = { ...cattle.visitsADay, low: 0.5, high: 0.5 }
    expect(loadOf({ low: 1, rate: 1, high: 1 }, { ...cattle, visitsADay: everyOther }).head.rate).toBe(2)
  })

  it('refuses an animal that never comes in', () => {
    const never = { ...cattle.visitsADay, low: 0, high: 1 }
    expect(() => loadOf({ low: 1, rate: 1, high: 1 }, { ...cattle, visitsADay: never })).toThrow(RangeError)
  })

  it.each(SPECIES)(
    'is rated for %s, with where each number was found or that it is from memory',
    (species) => {
      for (const { low, high, source, fromMemory } of Object.values(DEFAULT_RATINGS[species])) {
        expect(low).toBeGreaterThan(0)
        expect(high).toBeGreaterThanOrEqual(low)
        expect(source.startsWith('from memory')).toBe(fromMemory)
      }
    },
  )
})
