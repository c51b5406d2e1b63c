/** Which clusters can be closed off whole, against every choice tried. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type ClusterToClose, closeClusters } from '../../../services/planning/close-clusters.ts'

const cluster = (clusterId: number, head: number, open: number, fixed = 0): ClusterToClose => ({
  clusterId,
  head,
  points: Array.from({ length: open + fixed }, (_, i) => ({
    pointId: clusterId * 10 + i,
    fixedYard: i >= open,
  })),
})

/** Every subset, by the same rule: most head, then fewest yards, then the lower ids. */
function byTryingAll(clusters: readonly ClusterToClose[], yards: number) {
  let best = { head: 0, cost: 0, ids: [] as number[] }
  for (let mask = 1; mask < 1 << clusters.length; mask++) {
    const taken = clusters.filter((_, i) => mask & (1 << i)).filter(({ head }) => head > 0)
    const cost = taken.reduce(
      (sum, { points }) => sum + points.filter(({ fixedYard }) => !fixedYard).length,
      0,
    )
    if (cost > yards) continue
    const head = taken.reduce((sum, one) => sum + one.head, 0)
    const ids = taken.map(({ clusterId }) => clusterId).sort((a, b) => a - b)
    const lower =
      ids.map((id) => String.fromCharCode(id)).join('') <
      best.ids.map((id) => String.fromCharCode(id)).join('')
    if (head > best.head || (head === best.head && (cost < best.cost || (cost === best.cost && lower))))
      best = { head, cost, ids }
  }
  return best
}

describe('the yards there are', () => {
  it('close the clusters with the most head, not the one with the most', () => {
    // 40 for three yards, against 30 and 25 for three together.
    const plan = closeClusters([cluster(1, 40, 3), cluster(2, 30, 2), cluster(3, 25, 1)], 3)
    expect(plan).toMatchObject({ closed: [2, 3], head: 55, setAt: [20, 21, 30], yardsLeft: 0 })
    expect(plan.open).toEqual([{ clusterId: 1, head: 40, needAt: [10, 11, 12], yardsShort: 3 }])
  })

  it('are not spent on points whose yard stands there for good', () => {
    const plan = closeClusters([cluster(1, 40, 1, 4), cluster(2, 10, 0, 1)], 1)
    expect(plan).toMatchObject({ closed: [1, 2], setAt: [10], yardsLeft: 0, open: [] })
  })

  it('that are left over are told, with how many are short for each other cluster', () => {
    const plan = closeClusters([cluster(1, 40, 5), cluster(2, 10, 1)], 3)
    expect(plan).toMatchObject({ closed: [2], yardsLeft: 2 })
    expect(plan.open[0]).toMatchObject({ clusterId: 1, yardsShort: 3 })
  })

  it('are no half yards', () => {
    expect(() => closeClusters([], 1.5)).toThrow(RangeError)
  })
})

const clusters = fc
  .array(
    fc.record({
      head: fc.constantFrom(0, 5, 10, 10, 15, 20, 33.3),
      open: fc.integer({ min: 0, max: 4 }),
      fixed: fc.integer({ min: 0, max: 2 }),
    }),
    { maxLength: 8 },
  )
  .map((all) => all.map(({ head, open, fixed }, i) => cluster(i + 1, head, open, fixed)))

it('the choice is the best of all choices, ties and all', () => {
  fc.assert(
    fc.property(clusters, fc.integer({ min: 0, max: 9 }), (all, yards) => {
      const { closed, setAt, yardsLeft } = closeClusters(all, yards)
      // 33.3 summed in another order may differ in the last digit, and is then no tie to the plain sum.
      const whole = all.map((one) => ({ ...one, head: Math.round(one.head * 10) }))
      const best = byTryingAll(whole, yards)
      expect(closed).toEqual(best.ids)
      expect(setAt.length).toBe(best.cost)
      expect(yardsLeft).toBe(yards - best.cost)
    }),
  )
})

it('the order of the clusters has no say', () => {
  fc.assert(
    fc.property(clusters, fc.integer({ min: 0, max: 9 }), (all, yards) => {
      expect(closeClusters([...all].reverse(), yards)).toEqual(closeClusters(all, yards))
    }),
  )
})
