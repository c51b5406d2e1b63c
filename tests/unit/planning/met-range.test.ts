/** Head that is met lies between two ends, whatever animals do: held against animals that drink as they like. */
import { describe, expect, it } from 'vitest'
import type { DrinkingGroup } from '../../../services/planning/drinking-groups.ts'
import { addedBy, metRange, type RangedGroup, shiftRange } from '../../../services/planning/met-range.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'

const ranged = (head: number, shares: Readonly<Record<number, number>>, drinks: number): RangedGroup => ({
  group: {
    head,
    shares: new Map(Object.entries(shares).map(([id, share]) => [Number(id), share])),
    drinks,
  } satisfies DrinkingGroup,
  head: { low: head * 0.7, rate: head, high: head * 1.4 },
})

describe('head that comes to a set yard', () => {
  const group = ranged(20, { 1: 0.5, 2: 0.3, 3: 0.2 }, 7)

  it('is its share if animals keep to one water, and nearly all if drinks fall by chance', () => {
    const { met, metIfKeeping, notMet } = metRange([group], [1])
    expect(metIfKeeping).toBeCloseTo(10, 12)
    expect(met.rate).toBeCloseTo(20 * (1 - 0.5 ** 7), 12)
    expect(met.low).toBeCloseTo(14 * 0.5, 12)
    expect(met.high).toBeCloseTo(28 * (1 - 0.5 ** 7), 12)
    expect(notMet.high).toBeCloseTo(28 * 0.5, 12)
  })

  it('is all of it where no water is left, whatever the last digits of the shares', () => {
    const thirds = ranged(9, { 1: 0.1, 2: 0.2, 3: 0.7 }, 5)
    expect(metRange([thirds], [1, 2, 3])).toMatchObject({
      met: thirds.head,
      notMet: { low: 0, rate: 0, high: 0 },
    })
    expect(shiftRange([thirds], [1, 2, 3])).toEqual([])
  })

  it('of a group that none of the gates touches is neither met nor does it shift', () => {
    const far = ranged(50, { 8: 1 }, 7)
    expect(metRange([group, far], [1])).toEqual(metRange([group], [1]))
    expect(shiftRange([group, far], [1])).toEqual(shiftRange([group], [1]))
  })

  it('of animals that drink as they like lies between the two ends', () => {
    const draw = drawsFrom(4)
    for (let trial = 0; trial < 200; trial++) {
      // Each animal has habits of its own; their mean is the group's.
      const habits = Array.from({ length: 1 + draw(12) }, () => {
        const parts = [draw(100), draw(100), draw(100)].map((part) => part + (draw(3) === 0 ? 400 : 0))
        const all = parts.reduce((sum, part) => sum + part, 0) || 1
        return parts.map((part) => part / all)
      })
      const share = (water: number) => habits.reduce((sum, habit) => sum + habit[water]!, 0) / habits.length
      const drinks = 1 + draw(10)
      const group = ranged(habits.length, { 1: share(0), 2: share(1), 3: share(2) }, drinks)
      const met = habits.reduce((sum, habit) => sum + (1 - (1 - habit[0]!) ** drinks), 0)
      const told = metRange([group], [1])
      expect(met).toBeGreaterThanOrEqual(told.metIfKeeping - 1e-9)
      expect(met).toBeLessThanOrEqual(told.met.rate + 1e-9)
    }
  })
})

describe('what one more gate adds', () => {
  it('is told both ways, the lower first', () => {
    const group = ranged(10, { 1: 0.5, 2: 0.5 }, 4)
    expect(addedBy([group], { set: [1], pointId: 2 })).toEqual({
      pointId: 2,
      low: 10 - 10 * (1 - 0.5 ** 4),
      high: 5,
    })
    // At the first gate chance meets more than habit.
    const first = addedBy([group], { set: [], pointId: 1 })
    expect(first.low).toBeCloseTo(5, 12)
    expect(first.high).toBeCloseTo(10 * (1 - 0.5 ** 4), 12)
  })
})
