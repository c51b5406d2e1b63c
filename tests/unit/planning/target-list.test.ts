/** A target list: its ranking, and what people change on it. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type TargetEdit, targetList, withEdit } from '../../../services/planning/target-list.ts'
import { rankTargets, type TargetSightings } from '../../../services/planning/target-ranking.ts'
import { insideOf, shortestHolding } from '../../../services/planning/window-search.ts'
import { Refusal } from '../../../services/refusal.ts'
import { FULL_CIRCLE } from '../../../services/tally/circular-density.ts'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import type { Instant, NightDate } from '../../../services/words.ts'

const ratings = DEFAULT_RATINGS.camel

const sightings = (
  pointId: number,
  peaks: ReadonlyArray<readonly number[] | null>,
  lastSeenAt: number | null = null,
): TargetSightings => ({
  pointId,
  nights: peaks.map((of, i) => ({
    night: `2026-10-${String(i + 1).padStart(2, '0')}` as NightDate,
    watched: of === null ? null : 1,
    peaks: of ?? [],
  })),
  angles: peaks.flatMap((of) => (of ?? []).map(() => (22 / 24) * FULL_CIRCLE)),
  lastSeenAt: lastSeenAt as Instant | null,
})
const idsOf = (points: readonly TargetSightings[]) =>
  rankTargets(points, { ratings }).map(({ pointId }) => pointId)

describe('the ranking', () => {
  const many = sightings(
    1,
    Array.from({ length: 14 }, () => [6]),
  )
  const some = sightings(
    2,
    Array.from({ length: 14 }, (_, i) => (i % 2 ? [4] : [])),
  )
  const few = sightings(
    3,
    Array.from({ length: 14 }, (_, i) => (i < 1 ? [2] : [])),
  )

  it('has most head first, whatever order the points come in', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([few, many, some], { minLength: 3 }), (points) => {
        expect(idsOf(points)).toEqual([1, 2, 3])
      }),
    )
  })

  it('does not put one lucky night before weeks of watching', () => {
    // Two head a night on one night, against 5 of 14 nights with 5: 2 against 1.8 as counted.
    const lucky = sightings(4, [[2]])
    const steady = sightings(
      5,
      Array.from({ length: 14 }, (_, i) => (i < 5 ? [5] : [])),
    )
    const others = [6, 7, 8].map((id) =>
      sightings(
        id,
        Array.from({ length: 14 }, (_, i) => (i < 2 ? [3] : [])),
      ),
    )
    const ranked = rankTargets([lucky, steady, ...others], { ratings })
    expect(ranked[0]!.pointId).toBe(5)
    const [a, b] = [4, 5].map((id) => ranked.find(({ pointId }) => pointId === id)!)
    expect(a!.head!.rate).toBeGreaterThan(b!.head!.rate)
    expect(a!.ranked!).toBeLessThan(b!.ranked!)
  })

  it('puts points that were not watched last: nobody knows', () => {
    const ranked = rankTargets([sightings(9, [null, null]), few, some], { ratings })
    expect(ranked.at(-1)).toMatchObject({ pointId: 9, head: null, ranked: null, nightsWatched: 0 })
  })

  it('settles ties by the larger group, the later seen, the lower id', () => {
    const nights = (peaks: number[]) => Array.from({ length: 8 }, (_, i) => (i < 2 ? [peaks[i]!] : []))
    expect(idsOf([sightings(1, nights([3, 3]), 5), sightings(2, nights([2, 4]), 5)])).toEqual([2, 1])
    expect(idsOf([sightings(1, nights([3, 3]), 5), sightings(2, nights([3, 3]), 9)])).toEqual([2, 1])
    expect(idsOf([sightings(2, nights([3, 3]), 5), sightings(1, nights([3, 3]), 5)])).toEqual([1, 2])
  })

  it('tells head a night with limits, nights, hours and the largest group', () => {
    const [first] = rankTargets([many, some, few], { ratings })
    // 14 visits of 6 on 14 nights.
    expect(first).toMatchObject({ nightsSeen: 14, nightsWatched: 14, largestGroup: 6 })
    expect(first!.head!.rate).toBe(6)
    expect(first!.head!.low).toBeLessThan(6)
    expect(first!.head!.high).toBeGreaterThan(6)
    // All at 22:00.
    const { from, to, hours } = first!.bestHours!
    expect(from).toBeLessThanOrEqual(22)
    expect(to).toBeGreaterThan(21.5)
    expect(hours).toBeLessThan(3)
  })

  it('knows no best hours of under ten visits', () => {
    expect(rankTargets([some], { ratings })[0]!.bestHours).toBeNull()
  })
})

it('no shorter stretch holds as much as the shortest that does', () => {
  const day = fc
    .array(fc.integer({ min: 0, max: 9 }), { minLength: 48, maxLength: 48 })
    .filter((all) => all.some((part) => part > 0))
  fc.assert(
    fc.property(day, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (halves, share) => {
      const all = halves.reduce((a, b) => a + b, 0)
      const parts = halves.flatMap((half) => Array(3).fill(half / all / 3) as number[])
      const held = (from: number, long: number) =>
        insideOf({ from, long }).reduce((sum, step) => sum + parts[step]!, 0)
      const { from, long } = shortestHolding(parts, share)
      expect(held(from, long)).toBeGreaterThanOrEqual(share - 1e-6)
      for (let other = 0; other < 48; other++) expect(held(other, long - 1)).toBeLessThan(share + 1e-6)
    }),
    { numRuns: 30 },
  )
})

describe('changes by hand', () => {
  const ranking = [5, 3, 8]
  const idsAfter = (...edits: TargetEdit[]) => targetList(ranking, edits).lines.map(({ pointId }) => pointId)

  it('add, drop, put in order and note', () => {
    expect(idsAfter()).toEqual([5, 3, 8])
    expect(idsAfter({ kind: 'drop', pointId: 3 })).toEqual([5, 8])
    expect(idsAfter({ kind: 'add', pointId: 9 })).toEqual([5, 3, 8, 9])
    expect(idsAfter({ kind: 'order', pointIds: [8, 5] })).toEqual([8, 5, 3])
    expect(targetList(ranking, [{ kind: 'note', pointId: 5, text: ' locked gate ' }]).lines[0]).toEqual({
      pointId: 5,
      ranked: 1,
      byHand: false,
      note: 'locked gate',
    })
    expect(
      targetList(ranking, [
        { kind: 'note', pointId: 5, text: 'x' },
        { kind: 'note', pointId: 5, text: '' },
      ]).lines[0]!.note,
    ).toBeNull()
  })

  it('outlive a new ranking', () => {
    const edits: TargetEdit[] = [
      { kind: 'drop', pointId: 3 },
      { kind: 'add', pointId: 9 },
      { kind: 'order', pointIds: [9, 5, 8] },
      { kind: 'note', pointId: 9, text: 'tracks seen' },
    ]
    const { lines, version } = targetList([3, 8, 7, 5], edits)
    // 7 is new in the ranking and comes after what was put in order; 3 stays dropped.
    expect(lines.map(({ pointId }) => pointId)).toEqual([9, 5, 8, 7])
    expect(lines[0]).toMatchObject({ byHand: true, ranked: null, note: 'tracks seen' })
    expect(version).toBe(4)
  })

  it('can be taken back', () => {
    expect(idsAfter({ kind: 'drop', pointId: 3 }, { kind: 'add', pointId: 3 })).toEqual([5, 3, 8])
    expect(idsAfter({ kind: 'add', pointId: 9 }, { kind: 'drop', pointId: 9 })).toEqual([5, 3, 8])
  })

  it('on an older list are refused, not laid over somebody else’s', () => {
    const edits = withEdit({ ranking, edits: [] }, { kind: 'drop', pointId: 3 }, 0)
    const again = () => withEdit({ ranking, edits }, { kind: 'drop', pointId: 8 }, 0)
    expect(again).toThrow(Refusal)
    expect(again).toThrow(/change 1.*change 0/)
    expect(withEdit({ ranking, edits }, { kind: 'drop', pointId: 8 }, 1)).toHaveLength(2)
  })

  it.each<[string, TargetEdit]>([
    ['adds what is there', { kind: 'add', pointId: 5 }],
    ['drops what is not', { kind: 'drop', pointId: 9 }],
    ['notes what is not there', { kind: 'note', pointId: 9, text: 'x' }],
    ['orders what is not there', { kind: 'order', pointIds: [5, 9] }],
    ['orders a point twice', { kind: 'order', pointIds: [5, 5] }],
  ])('that %s is refused', (_, edit) => {
    expect(() => withEdit({ ranking, edits: [] }, edit, 0)).toThrow(Refusal)
  })

  it('whatever they are, keep each point on the list once', () => {
    const id = fc.integer({ min: 1, max: 6 })
    const edit = fc.oneof(
      fc.record({ kind: fc.constant('add' as const), pointId: id }),
      fc.record({ kind: fc.constant('drop' as const), pointId: id }),
      fc.record({ kind: fc.constant('order' as const), pointIds: fc.uniqueArray(id) }),
      fc.record({ kind: fc.constant('note' as const), pointId: id, text: fc.string() }),
    )
    fc.assert(
      fc.property(fc.uniqueArray(id), fc.array(edit), (ranked, edits) => {
        const ids = targetList(ranked, edits).lines.map(({ pointId }) => pointId)
        expect(new Set(ids).size).toBe(ids.length)
        for (const one of ranked)
          expect(ids.includes(one)).toBe(
            edits
              .filter(
                ({ kind, ...rest }) =>
                  (kind === 'add' || kind === 'drop') && 'pointId' in rest && rest.pointId === one,
              )
              .at(-1)?.kind !== 'drop',
          )
      }),
    )
  })
})
