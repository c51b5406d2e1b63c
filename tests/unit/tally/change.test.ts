import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compareRates, type SpellCount } from '../../../services/tally/change.ts'
import { LEAST_WATCHED_NIGHTS, verdictsOf } from '../../../services/tally/change-verdicts.ts'
import { ableToShow, holm } from '../../../services/tally/several-tests.ts'

const of = (visits: number, watchedNights: number): SpellCount => ({ visits, watchedNights })
const spellCount = fc.record({
  visits: fc.integer({ min: 0, max: 40 }),
  watchedNights: fc.integer({ min: 1, max: 28 }),
})
const dispersions = fc.constantFrom(1, 1.3, 2, 3)

describe('a change between two spells', () => {
  // The design of this project: 11 in 800 against 21 in 3011; R 4.2.2 poisson.test for ratio and interval.
  it('11 in 800 against 21 in 3011 has p 0.112 and a ratio of 0.858 to 4.277', () => {
    const { p, ratio, low, high } = compareRates(of(11, 800), of(21, 3011))
    expect(p).toBeCloseTo(0.112, 3)
    expect(ratio).toBeCloseTo(1.971488, 6)
    expect(low).toBeCloseTo(0.8584264, 6)
    expect(high).toBeCloseTo(4.277266, 5)
  })

  it('has an interval that leaves out 1 when, and only when, p is under 0.05', () => {
    fc.assert(
      fc.property(spellCount, spellCount, dispersions, (now, before, dispersion) => {
        const { p, low, high } = compareRates(now, before, { dispersion })
        fc.pre(Math.abs(p - 0.05) > 1e-9)
        expect(low > 1 || (high !== null && high < 1)).toBe(p < 0.05)
      }),
    )
  })

  it('is the same seen from either end', () => {
    fc.assert(
      fc.property(spellCount, spellCount, dispersions, (now, before, dispersion) => {
        const on = compareRates(now, before, { dispersion })
        const back = compareRates(before, now, { dispersion })
        expect(back.p).toBeCloseTo(on.p, 10)
        if (back.high !== null) expect(on.low * back.high).toBeCloseTo(now.visits === 0 ? 0 : 1, 8)
      }),
    )
  })

  it('has no smaller p and no narrower interval the more the visits clump', () => {
    fc.assert(
      fc.property(spellCount, spellCount, (now, before) => {
        const chance = compareRates(now, before)
        const clumped = compareRates(now, before, { dispersion: 2 })
        expect(clumped.p).toBeGreaterThanOrEqual(chance.p - 1e-12)
        expect(clumped.low).toBeLessThanOrEqual(chance.low)
        if (chance.high !== null) expect(clumped.high).toBeGreaterThanOrEqual(chance.high)
      }),
    )
  })

  it('never has a p below the least that so many visits could give', () => {
    fc.assert(
      fc.property(spellCount, spellCount, dispersions, (now, before, dispersion) => {
        const { p, leastP } = compareRates(now, before, { dispersion })
        expect(p).toBeGreaterThanOrEqual(leastP - 1e-12)
      }),
    )
  })

  it('from nothing to something has no upper limit, from nothing to nothing says nothing', () => {
    expect(compareRates(of(3, 7), of(0, 28))).toMatchObject({ ratio: null, high: null })
    expect(compareRates(of(0, 7), of(0, 28))).toEqual({ p: 1, ratio: null, low: 0, high: null, leastP: 1 })
  })

  it('refuses a spell that was not watched', () => {
    expect(() => compareRates(of(3, 0), of(1, 7))).toThrow(RangeError)
  })
})

describe('several tests at once', () => {
  // By hand: 4 x 0.01, 3 x 0.015 = 0.045 but no less than the one before it is 0.045, 2 x 0.03 = 0.06, 0.5.
  it('multiply the smallest p by their number, the next by one less, never falling', () => {
    expect(holm([0.03, 0.01, 0.5, 0.015])).toEqual([0.06, 0.04, 0.5, 0.045])
  })

  it('leave out those that could never reach significance: they cost the others nothing', () => {
    // K = 1: three are at most 0.05; K = 2: two are at most 0.025, so K = 2.
    expect(ableToShow([0.001, 0.02, 0.04, 0.5], 0.05)).toEqual([true, true, false, false])
    expect(ableToShow([0.5, 0.9], 0.05)).toEqual([false, false])
    expect(ableToShow([], 0.05)).toEqual([])
  })
})

describe('the verdict', () => {
  const verdicts = (pairs: ReadonlyArray<readonly [SpellCount, SpellCount]>, dispersion: number | null = 1) =>
    verdictsOf(
      pairs.map(([now, before]) => ({ now, before })),
      dispersion,
    ).map(({ verdict }) => verdict)
  const rose = [of(20, 7), of(8, 28)] as const
  const same = [of(4, 7), of(16, 28)] as const

  it('is more or fewer where the change is sure among all points', () => {
    expect(verdicts([rose, same, [of(0, 7), of(60, 28)]])).toEqual(['more', 'no clear change', 'fewer'])
  })

  it('is worth a look where a change is likely but one of so many points may show it by chance', () => {
    const slight = [of(8, 7), of(11, 28)] as const
    expect(verdicts([slight])).toEqual(['more'])
    const among = verdicts([slight, same, same, same, same])
    expect(among).toEqual(['worth a look', ...Array(4).fill('no clear change')])
  })

  it('is too few nights where three were not watched, or a visit or two could show nothing', () => {
    expect(verdicts([[of(9, LEAST_WATCHED_NIGHTS - 0.1), of(1, 28)]])).toEqual(['too few nights to tell'])
    expect(verdicts([[of(9, 7), of(0, 0)]])).toEqual(['too few nights to tell'])
    expect(verdicts([[of(1, 7), of(0, 28)]])).toEqual(['too few nights to tell'])
  })

  it('is too few nights while nobody knows how much the species clumps', () => {
    expect(verdicts([rose], null)).toEqual(['too few nights to tell'])
  })

  it('is no clear change where nothing came in either spell', () => {
    expect(verdicts([[of(0, 7), of(0, 28)]])).toEqual(['no clear change'])
  })

  it('is not stronger for a point beside points that could show nothing', () => {
    const idle = Array(30).fill([of(1, 7), of(0, 28)]) as Array<readonly [SpellCount, SpellCount]>
    const slight = [of(8, 7), of(11, 28)] as const
    expect(verdicts([slight, ...idle])[0]).toBe('more')
  })
})
