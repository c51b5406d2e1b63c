/** Where to set yards so that most animals meet one: the rule, and what it promises. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type DrinkingGroup, drinkingGroup } from '../../../services/planning/drinking-groups.ts'
import { greedyPoints, headMet, meetMost } from '../../../services/planning/meet-most.ts'
import { shiftToOthers } from '../../../services/planning/shift-to-others.ts'

const group = (head: number, shares: Record<number, number>, drinks: number): DrinkingGroup => ({
  head,
  shares: new Map(Object.entries(shares).map(([id, share]) => [Number(id), share])),
  drinks,
})

const POINTS = 7
const anyGroup = fc
  .record({
    head: fc.integer({ min: 1, max: 60 }),
    weights: fc.array(fc.integer({ min: 0, max: 5 }), { minLength: POINTS + 1, maxLength: POINTS + 1 }),
    drinks: fc.double({ min: 1, max: 20, noNaN: true }),
  })
  .map(({ head, weights, drinks }) => {
    // The last weight is what they drink elsewhere.
    const all = Math.max(
      1,
      weights.reduce((a, b) => a + b, 0),
    )
    return group(head, Object.fromEntries(weights.slice(0, POINTS).map((w, i) => [i + 1, w / all])), drinks)
  })
const groups = fc.array(anyGroup, { minLength: 1, maxLength: 5 })
const candidates = Array.from({ length: POINTS }, (_, i) => i + 1)
const someOf = fc.subarray(candidates)

function most(all: readonly DrinkingGroup[], yards: number): number {
  let best = 0
  for (let mask = 0; mask < 1 << POINTS; mask++) {
    const set = candidates.filter((_, i) => mask & (1 << i))
    if (set.length <= yards) best = Math.max(best, headMet(all, set))
  }
  return best
}

describe('the head met', () => {
  // By hand: 20 head, a half and a quarter of their drinks, three drinks: 20 (1 - 0.25^3).
  it('is who drinks there at least once', () => {
    expect(headMet([group(20, { 1: 0.5, 2: 0.25 }, 3)], [1, 2])).toBeCloseTo(20 * (1 - 0.25 ** 3), 10)
    expect(headMet([group(20, { 1: 0.5, 2: 0.5 }, 3)], [1, 2])).toBe(20)
    expect(headMet([group(20, { 1: 0.5 }, 3)], [2])).toBe(0)
  })

  it('never falls with another yard', () => {
    fc.assert(
      fc.property(groups, someOf, fc.constantFrom(...candidates), (all, set, more) => {
        expect(headMet(all, [...set, more])).toBeGreaterThanOrEqual(headMet(all, set) - 1e-9)
      }),
    )
  })

  it('grows less by the same yard the more are set (submodular)', () => {
    fc.assert(
      fc.property(groups, someOf, someOf, fc.constantFrom(...candidates), (all, a, b, more) => {
        const few = a.filter((id) => id !== more)
        const many = [...new Set([...few, ...b])].filter((id) => id !== more)
        const gain = (set: number[]) => headMet(all, [...set, more]) - headMet(all, set)
        expect(gain(many)).toBeLessThanOrEqual(gain(few) + 1e-9)
      }),
    )
  })
})

describe('step by step', () => {
  const k = fc.integer({ min: 1, max: 4 })
  it('reaches at least 1 - (1 - 1/k)^k of the best (Nemhauser, Wolsey & Fisher 1978)', () => {
    fc.assert(
      fc.property(groups, k, (all, yards) => {
        const met = headMet(all, greedyPoints({ groups: all, candidates, already: [], yards }))
        expect(met).toBeGreaterThanOrEqual((1 - (1 - 1 / yards) ** yards) * most(all, yards) - 1e-9)
      }),
    )
  })

  /**
   * Instances that reach the bound, made by hand: each of k good points (11, 12, ...) has the same head to itself; each of
   * the tempting ones (1, 2, ...) drinks at a kth of what is left of every good one. A group at two points with 60 drinks
   * is met by either: 0.5^60 is nothing.
   */
  const tight = (k: number, tempting: readonly number[], own: number) =>
    Array.from({ length: k }, (_, i) => 11 + i).flatMap((good) => [
      ...tempting.map((head, i) => group(head, { [good]: 0.5, [i + 1]: 0.5 }, 60)),
      group(own, { [good]: 1 }, 60),
    ])

  it.each([
    // k = 2: the best is 4, step by step 2 + 1; 3/4.
    { k: 2, all: tight(2, [1, 0.5], 0.5), best: 4, found: 3 },
    // k = 3: the best is 81, step by step 27 + 18 + 12 = 57; 19/27.
    { k: 3, all: tight(3, [9, 6, 4], 8), best: 81, found: 57 },
  ])('can be so bad: with $k yards $found of $best', ({ k, all, best, found }) => {
    const ids = [...Array(k).keys()].flatMap((i) => [i + 1, 11 + i])
    expect(headMet(all, greedyPoints({ groups: all, candidates: ids, already: [], yards: k }))).toBeCloseTo(
      found,
      9,
    )
    // So few choices are all tried.
    expect(meetMost({ groups: all, candidates: ids, already: [], yards: k })).toMatchObject({
      how: 'every choice tried',
      atLeastOfBest: 1,
    })
    expect(meetMost({ groups: all, candidates: ids, already: [], yards: k }).met).toBeCloseTo(best, 9)
    expect(found / best).toBeCloseTo(1 - (1 - 1 / k) ** k, 10)
  })
})

describe('the plan', () => {
  it('is the best there is where all choices are tried, with the yards that stand for good set as well', () => {
    fc.assert(
      fc.property(groups, fc.integer({ min: 0, max: 3 }), (all, yards) => {
        const { met, points, of, oneMore } = meetMost({ groups: all, candidates, already: [7], yards })
        const withSeven = candidates.flatMap((_, mask) => mask)
        expect(withSeven.length).toBe(POINTS)
        let best = 0
        for (let mask = 0; mask < 1 << 6; mask++) {
          const set = candidates.slice(0, 6).filter((_, i) => mask & (1 << i))
          if (set.length <= yards) best = Math.max(best, headMet(all, [...set, 7]))
        }
        expect(met).toBeCloseTo(best, 9)
        expect(points).not.toContain(7)
        expect(met).toBeLessThanOrEqual(of + 1e-9)
        // What one more yard adds is what it adds.
        expect(headMet(all, [7, ...points, oneMore!.pointId])).toBeCloseTo(met + oneMore!.head, 9)
      }),
      { numRuns: 50 },
    )
  })

  it('of many points goes step by step and says how good it is at least', () => {
    const many = Array.from({ length: 40 }, (_, i) => i + 1)
    const all = many.map((id) => group(10 + (id % 7), { [id]: 0.6, [(id % 40) + 1]: 0.3 }, 4))
    const plan = meetMost({ groups: all, candidates: many, already: [], yards: 8 })
    expect(plan.how).toBe('step by step')
    expect(plan.atLeastOfBest).toBeGreaterThanOrEqual(1 - (1 - 1 / 8) ** 8)
    expect(plan.atLeastOfBest).toBeLessThanOrEqual(1)
    expect(new Set(plan.points).size).toBe(8)
  })

  it('refuses a group that does not drink once', () => {
    expect(() =>
      meetMost({ groups: [group(5, { 1: 1 }, 0.5)], candidates: [1], already: [], yards: 1 }),
    ).toThrow(RangeError)
  })
})

describe('what shifts to other waters', () => {
  it('is who was not met, by where else they drink', () => {
    // 16 head, half their drinks at the yard, two drinks: 4 not met; of the other half 0.3 at 2, 0.1 at 3, 0.1 elsewhere.
    const shift = shiftToOthers([group(16, { 1: 0.5, 2: 0.3, 3: 0.1 }, 2)], [1])
    expect(shift.notMet).toBeCloseTo(4, 10)
    expect(shift.to.map(({ pointId }) => pointId)).toEqual([2, 3])
    expect(shift.to[0]!.head).toBeCloseTo(4 * 0.6, 10)
    expect(shift.elsewhere).toBeCloseTo(4 * 0.2, 10)
  })

  it('and who is met are all there are', () => {
    fc.assert(
      fc.property(groups, someOf, (all, set) => {
        const { notMet, to, elsewhere } = shiftToOthers(all, set)
        const head = all.reduce((sum, one) => sum + one.head, 0)
        expect(headMet(all, set) + notMet).toBeCloseTo(head, 6)
        expect(to.reduce((sum, one) => sum + one.head, 0) + elsewhere).toBeCloseTo(notMet, 6)
        expect(to.every(({ pointId }) => !set.includes(pointId))).toBe(true)
      }),
    )
  })
})

it('a cluster’s animals become a group by their drinks', () => {
  const found = drinkingGroup(
    new Map([
      [1, 12],
      [2, 4],
    ]),
    { drinksADay: 0.5, nights: 14 },
  )!
  expect(found.head).toBe(32)
  expect(found.shares.get(1)).toBe(0.75)
  expect(found.drinks).toBe(7)
  expect(drinkingGroup(new Map([[1, 0]]), { drinksADay: 1, nights: 7 })).toBeNull()
})
