/** Short rounds, against every order tried. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { kilometresBetween } from '../../../services/planning/distance.ts'
import {
  exactRound,
  type Matrix,
  nearlyShortestRound,
  roundLength,
  shortestRound,
} from '../../../services/planning/shortest-round.ts'
import { tourInOrder, tourOf } from '../../../services/planning/tour.ts'
import { HOME } from '../../../services/planning/track-distances.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'

const driving = { kmAnHour: 40, minutesAtPoint: 15 }

function shortestByTryingAll(km: Matrix): number {
  const shortestFrom = (here: number, left: readonly number[]): number =>
    left.length === 0
      ? km[here]![0]!
      : Math.min(
          ...left.map(
            (next) =>
              km[here]![next]! +
              shortestFrom(
                next,
                left.filter((one) => one !== next),
              ),
          ),
        )
  return shortestFrom(
    0,
    km.slice(1).map((_, i) => i + 1),
  )
}

/** Tracks of any length, the same both ways: no map need fit them. */
const tracks = (least: number, most: number) =>
  fc
    .integer({ min: least, max: most })
    .chain((places) =>
      fc
        .array(fc.integer({ min: 1, max: 100 }), { minLength: places ** 2, maxLength: places ** 2 })
        .map(
          (all): Matrix =>
            Array.from({ length: places }, (_, a) =>
              Array.from({ length: places }, (_, b) =>
                a === b ? 0 : all[Math.min(a, b) * places + Math.max(a, b)]!,
              ),
            ),
        ),
    )

const onAMap = (n: number, seed: number): Matrix => {
  const draw = drawsFrom(seed)
  const places = Array.from({ length: n + 1 }, () => ({ x: draw(1000) / 10, y: draw(1000) / 10 }))
  return places.map((a) => places.map((b) => Math.hypot(a.x - b.x, a.y - b.y)))
}

const everyPlaceOnce = (order: readonly number[], km: Matrix) =>
  expect([...order].sort((a, b) => a - b)).toEqual(km.slice(1).map((_, i) => i + 1))

describe('an exact round', () => {
  it('is as short as the shortest of all orders, up to 7 points', () => {
    fc.assert(
      fc.property(tracks(1, 8), (km) => {
        const order = exactRound(km)
        everyPlaceOnce(order, km)
        expect(roundLength(order, km)).toBeCloseTo(shortestByTryingAll(km), 9)
      }),
      { numRuns: 60 },
    )
  })

  it('and of 9 points', () => {
    const km = onAMap(9, 3)
    expect(roundLength(exactRound(km), km)).toBeCloseTo(shortestByTryingAll(km), 9)
  })
})

describe('a round that is mended step by step', () => {
  it('calls at each place once, and no stretch turned round, and no three places moved elsewhere, make it shorter', () => {
    fc.assert(
      fc.property(fc.integer({ min: 13, max: 22 }), fc.nat(), (n, seed) => {
        const km = onAMap(n, seed)
        const order = nearlyShortestRound(km)
        everyPlaceOnce(order, km)
        const length = roundLength(order, km)
        let shortest = length
        for (let from = 0; from < n; from++)
          for (let to = from + 1; to <= n; to++) {
            const [stretch, rest] = [order.slice(from, to), [...order.slice(0, from), ...order.slice(to)]]
            const turned = [...stretch].reverse()
            shortest = Math.min(
              shortest,
              roundLength([...order.slice(0, from), ...turned, ...order.slice(to)], km),
            )
            if (to - from > 3) continue
            for (let at = 0; at <= rest.length; at++)
              for (const way of [stretch, turned])
                shortest = Math.min(
                  shortest,
                  roundLength([...rest.slice(0, at), ...way, ...rest.slice(at)], km),
                )
          }
        expect(shortest).toBeGreaterThan(length - 1e-6)
      }),
      { numRuns: 15 },
    )
  })

  it('is within a twentieth of the shortest, over forty maps of 12 points', () => {
    let worst = 1
    for (let seed = 1; seed <= 40; seed++) {
      const km = onAMap(12, seed)
      worst = Math.max(worst, roundLength(nearlyShortestRound(km), km) / roundLength(exactRound(km), km))
    }
    console.info(
      `rounds of 12 points mended step by step: the worst of forty is ${worst.toFixed(4)} of the shortest`,
    )
    expect(worst).toBeLessThan(1.05)
  })
})

describe('a tour', () => {
  const home = { lat: -28.4, lon: 134.2 }
  // North of the homestead and a little east, 11.1 km apart on the meridian; ids out of order on purpose.
  const points = [3, 1, 2].map((pointId) => ({
    pointId,
    lat: -28.4 + pointId * 0.1,
    lon: 134.2 + 0.01 * (pointId % 2),
  }))
  const given = { home, points, table: [] }

  it('goes out and comes home, and its hours are driving and standing', () => {
    const { order, legs, km, hours, shortest } = tourOf(given, driving)
    expect([...order].sort()).toEqual([1, 2, 3])
    expect(legs.map(({ from, to }) => [from, to])).toEqual([
      [HOME, order[0]],
      [order[0], order[1]],
      [order[1], order[2]],
      [order[2], HOME],
    ])
    // No shorter than twice to the farthest.
    expect(km).toBeGreaterThanOrEqual(2 * kilometresBetween(home, points[0]!) - 1e-9)
    expect(km).toBeCloseTo(
      legs.reduce((sum, leg) => sum + leg.km, 0),
      9,
    )
    expect(hours).toBeCloseTo(km / 40 + 0.75, 9)
    expect(shortest).toBe(true)
    expect(legs.every(({ straight }) => straight)).toBe(true)
  })

  it('believes the owner’s table over the map, both ways', () => {
    // The straight way to 3 is shut: by the table it is 500 km from anywhere but 1.
    const table = [
      { between: [HOME, 3] as const, km: 500 },
      { between: [2, 3] as const, km: 500 },
      { between: [3, 1] as const, km: 1 },
      { between: [HOME, 1] as const, km: 2 },
    ]
    const tour = tourOf({ home, points, table }, driving)
    const shut = tour.legs.filter(({ km }) => km === 500)
    // One of both shut ways has to be taken, and no round takes two.
    expect(shut).toHaveLength(1)
    expect(tour.legs.find(({ from, to }) => from === 1 || to === 1)!.straight).toBe(false)
  })

  it('of the later of two rows believes the later', () => {
    const table = [
      { between: [HOME, 1] as const, km: 70 },
      { between: [1, HOME] as const, km: 30 },
    ]
    expect(tourOf({ home, points: points.slice(1, 2), table }, driving).km).toBe(60)
  })

  it('in an order that a person chose is that order', () => {
    expect(tourInOrder([2, 3, 1], given, driving).order).toEqual([2, 3, 1])
    expect(tourInOrder([2, 3, 1], given, driving).km).toBeGreaterThanOrEqual(tourOf(given, driving).km)
  })

  it('of no point is none; of a point twice, an unknown point or no speed is refused', () => {
    expect(tourOf({ home, points: [], table: [] }, driving)).toMatchObject({
      order: [],
      legs: [],
      km: 0,
      hours: 0,
    })
    expect(() => tourOf({ home, points: [points[0]!, points[0]!], table: [] }, driving)).toThrow(RangeError)
    expect(() => tourInOrder([9], given, driving)).toThrow(RangeError)
    expect(() => tourOf(given, { kmAnHour: 0, minutesAtPoint: 0 })).toThrow(RangeError)
    expect(() => tourOf({ ...given, table: [{ between: [1, 2], km: 0 }] }, driving)).toThrow(RangeError)
  })

  it('of thirteen points may not be the shortest, and says so', () => {
    const many = Array.from({ length: 13 }, (_, i) => ({
      pointId: i + 1,
      lat: -28 + (i % 5) * 0.1,
      lon: 134 + (i % 3) * 0.1 + i * 0.001,
    }))
    expect(tourOf({ home, points: many, table: [] }, driving).shortest).toBe(false)
  })

  it('is the same in whatever order the points come', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(points, { minLength: 3 }), (shuffled) => {
        expect(tourOf({ home, points: shuffled, table: [] }, driving)).toEqual(tourOf(given, driving))
      }),
    )
  })
})

it('of the two ways round the one that begins with the lower place is taken', () => {
  const order = shortestRound(onAMap(8, 1))
  expect(order[0]!).toBeLessThan(order.at(-1)!)
})
