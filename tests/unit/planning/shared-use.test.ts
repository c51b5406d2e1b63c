/** Waters that share animals. Distances are geodesic; a degree of latitude is 110.6 to 111.7 km (WGS 84, from memory). */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DEFAULT_DAILY_RANGES } from '../../../services/planning/daily-ranges.ts'
import { kilometresBetween } from '../../../services/planning/distance.ts'
import { followedOn, type WatchedPoint } from '../../../services/planning/followed-on.ts'
import { type SharedPoint, waterClusters } from '../../../services/planning/shared-use.ts'
import { nightSpell, nightsBetween } from '../../../services/tally/nights.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'
import { type Instant, type NightDate, SPECIES, type Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const HOUR_MS = 3_600_000
const nights = nightsBetween('2026-08-01' as NightDate, '2026-09-29' as NightDate)
const noHours = { least: 0, most: 36 }

/** A visit of an hour, so many hours after noon, on each night that `comes`. */
const point = (hours: number, comes: (i: number) => boolean, watched = nights): WatchedPoint => ({
  watchedNights: watched,
  visits: nights
    .filter((_, i) => comes(i))
    .map((night) => {
      const startedAt = (nightSpell(night, zone).from + hours * HOUR_MS) as Instant
      return { startedAt, endedAt: (startedAt + HOUR_MS) as Instant }
    }),
})

const at = (pointId: number, km: number, watched: WatchedPoint | null = null): SharedPoint => ({
  pointId,
  lat: -28 + km / 110.85,
  lon: 134,
  watched,
})
const idsOf = (points: SharedPoint[], rangeKm: number) =>
  waterClusters(points, { rangeKm, zone }).map(({ pointIds }) => pointIds)

describe('a cluster of waters', () => {
  it('is a chain of steps within the range: its ends may lie further apart', () => {
    expect(idsOf([at(1, 0), at(2, 9), at(3, 18), at(4, 40)], 10)).toEqual([[1, 2, 3], [4]])
  })

  it('is the same in whatever order the points come', () => {
    const points = [at(1, 0), at(2, 9), at(3, 18), at(4, 40), at(5, 44)]
    fc.assert(
      fc.property(fc.shuffledSubarray(points, { minLength: 5 }), (shuffled) => {
        expect(idsOf(shuffled, 10)).toEqual([
          [1, 2, 3],
          [4, 5],
        ])
      }),
    )
  })

  it('holds all that is within the range of any of its points, and nothing else', () => {
    const places = fc.array(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 })), {
      minLength: 1,
      maxLength: 12,
    })
    fc.assert(
      fc.property(places, fc.integer({ min: 1, max: 40 }), (kms, rangeKm) => {
        const points = kms.map(([north, east], i) => ({
          pointId: i + 1,
          lat: -28 + north / 110.85,
          lon: 134 + east / 98.3,
          watched: null,
        }))
        const clusters = waterClusters(points, { rangeKm, zone })
        expect(clusters.flatMap(({ pointIds }) => pointIds).sort((a, b) => a - b)).toEqual(
          points.map(({ pointId }) => pointId),
        )
        const clusterOf = (id: number) => clusters.findIndex(({ pointIds }) => pointIds.includes(id))
        for (const a of points)
          for (const b of points)
            if (kilometresBetween(a, b) <= rangeKm) expect(clusterOf(a.pointId)).toBe(clusterOf(b.pointId))
        for (const { pointIds, pairs } of clusters)
          expect(pairs.length).toBeGreaterThanOrEqual(pointIds.length - 1)
      }),
      { numRuns: 40 },
    )
  })

  it('is by distance only where one of both has no camera, and pairs out of range say nothing', () => {
    const seen = point(8, () => true)
    const [cluster] = waterClusters([at(1, 0, seen), at(2, 9, seen), at(3, 17)], { rangeKm: 10, zone })
    expect(cluster!.pairs.map(({ pointIds, followed }) => [pointIds, followed === null])).toEqual([
      [[1, 2], false],
      [[2, 3], true],
    ])
  })
})

describe('sightings that follow one another', () => {
  /** A mob that stays two nights or more at a water and then goes to the other. */
  const where = (() => {
    const draw = drawsFrom(5)
    let here = 0
    let stayed = 0
    return nights.map(() => {
      if (stayed >= 2 && draw(10) < 5) [here, stayed] = [1 - here, 0]
      stayed++
      return here
    })
  })()

  it('say that a mob moves which is now here, now there, and never at both', () => {
    const one = point(9, (i) => where[i] === 0)
    const other = point(9, (i) => where[i] === 1)
    const followed = followedOn(one, other, { hours: { least: 2, most: 36 }, zone })
    expect(followed.says).toBe('seen to move')
    // By hand: each night on which it is not where it was the night before is a move.
    expect(followed.moves).toBe(where.filter((here, i) => i > 0 && here !== where[i - 1]).length)
    expect(followed.moves).toBeGreaterThan(followed.byChance!)
  })

  it('say no more than chance of two mobs that know nothing of each other, but for the rate of false alarms', () => {
    const draw = drawsFrom(11)
    const trials = 200
    let alarms = 0
    for (let trial = 0; trial < trials; trial++) {
      const one = point(9, () => draw(10) < 5)
      const other = point(12, () => draw(10) < 5)
      if (followedOn(one, other, { hours: { least: 1, most: 36 }, zone }).says === 'seen to move') alarms++
    }
    // 5 % of 200 are 10; more than 20 would come once in more than 500 such runs (binomial).
    expect(alarms).toBeLessThanOrEqual(20)
  })

  it('are none where the way takes longer than the time between', () => {
    const one = point(9, (i) => i % 6 === 0)
    const other = point(12, (i) => i % 6 === 1)
    const moves = (least: number, most: number) =>
      followedOn(one, other, { hours: { least, most }, zone }).moves
    // An hour's visit from the ninth hour ends at the tenth; the next day's twelfth is 26 hours later; back it is days.
    expect(moves(1, 36)).toBe(10)
    expect(moves(27, 36)).toBe(0)
    expect(moves(1, 25)).toBe(0)
  })

  it('are none at two waters that are both visited every night', () => {
    const followed = followedOn(
      point(9, () => true),
      point(12, () => true),
      { hours: { least: 1, most: 36 }, zone },
    )
    expect(followed).toMatchObject({ moves: 0, says: 'no more than by chance', p: 1 })
  })

  it('do not reach over nights on which one was not watched', () => {
    const everySecond = nights.filter((_, i) => i % 2 === 0)
    const one = point(9, (i) => i % 4 === 0)
    const other = point(9, (i) => i % 4 === 2, everySecond)
    expect(followedOn(one, other, { hours: noHours, zone })).toMatchObject({ moves: 0, nights: 30 })
  })

  it('are too few to tell under 28 nights', () => {
    const few = nights.slice(0, 27)
    expect(
      followedOn(
        point(9, () => true),
        point(12, () => true, few),
        { hours: noHours, zone },
      ),
    ).toMatchObject({
      says: 'too few nights',
      byChance: null,
      p: null,
      nights: 27,
    })
  })
})

it('every species has a range, and each says that it is remembered', () => {
  for (const species of SPECIES)
    expect(DEFAULT_DAILY_RANGES[species]).toMatchObject({
      fromMemory: true,
      source: 'from memory, check locally',
    })
})
