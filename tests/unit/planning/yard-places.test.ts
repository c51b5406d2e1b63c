/** Whole gate plans on seeded stations, against every choice tried and every number made in another way. */
import { describe, expect, it } from 'vitest'
import { type YardGiven, type YardWater, yardPlaces } from '../../../services/planning/yard-places.ts'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import { nightsOn } from '../../../services/tally/nights.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'
import type { NightDate, Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const FIRST = '2026-10-01' as NightDate
/** At 28 degrees south (WGS 84; from memory): over 20 km a flat sheet is then good to a thousandth. */
const KM_A_DEGREE = { lat: 110.82, lon: 98.36 }
/** Waters stand on a grid, so that no pair lies as near to a range as that. */
const GRID_KM = 3

interface Sketch {
  readonly east: number
  readonly north: number
  readonly hasYard: boolean
  readonly isBlocked: boolean
  readonly watchedNights: number
  /** Peaks of the visits, one a night from the first on. */
  readonly peaks: readonly number[]
}

function waterOf(sketch: Sketch, i: number): YardWater {
  const nights = Array.from({ length: sketch.watchedNights }, (_, night) => ({
    night: nightsOn(FIRST, night),
    watched: 1,
    peaks: sketch.peaks[night] === undefined ? [] : [sketch.peaks[night]],
  }))
  return {
    pointId: i + 1,
    lat: -28 + sketch.north / KM_A_DEGREE.lat,
    lon: 134 + sketch.east / KM_A_DEGREE.lon,
    hasYard: sketch.hasYard,
    nights,
    watched: null,
    isBlocked: sketch.isBlocked,
  }
}

function drawnStation(draw: (below: number) => number): {
  sketches: Sketch[]
  given: YardGiven
  rangeKm: number
} {
  const sketches = Array.from({ length: 3 + draw(7) }, (): Sketch => {
    const watchedNights = draw(5) === 0 ? draw(14) : 20 + draw(36)
    const visits = draw(3) === 0 ? 0 : draw(watchedNights + 1)
    return {
      east: GRID_KM * (draw(8) - 4),
      north: GRID_KM * (draw(8) - 4),
      hasYard: draw(3) === 0,
      isBlocked: draw(4) === 0,
      watchedNights,
      peaks: Array.from({ length: visits }, () => 1 + draw(6)),
    }
  })
  const rangeKm = GRID_KM * Math.sqrt(draw(20) + 1.5)
  const given: YardGiven = {
    waters: sketches.map(waterOf),
    rangeKm,
    zone,
    ratings: DEFAULT_RATINGS.camel,
    means: { portableYards: draw(5), nightsSet: 1 + draw(9) },
    dispersion: 1,
  }
  return { sketches, given, rangeKm }
}

const squareKm = (a: Sketch, b: Sketch) => (a.east - b.east) ** 2 + (a.north - b.north) ** 2
const headAt = ({ peaks, watchedNights }: Sketch) =>
  watchedNights === 0 ? 0 : peaks.reduce((sum, peak) => sum + peak, 0) / watchedNights
const isUsed = ({ peaks, watchedNights }: Sketch) => peaks.length > 0 || watchedNights < 14

/** Clusters by walking from water to water. */
function clustersByWalking(sketches: readonly Sketch[], rangeKm: number): number[][] {
  const left = new Set(sketches.flatMap((sketch, i) => (isUsed(sketch) ? [i + 1] : [])))
  const clusters: number[][] = []
  for (const start of left) {
    const cluster = [start]
    left.delete(start)
    for (let at = 0; at < cluster.length; at++)
      for (const id of left)
        if (squareKm(sketches[id - 1]!, sketches[cluster[at]! - 1]!) <= rangeKm ** 2) {
          left.delete(id)
          cluster.push(id)
        }
    clusters.push(cluster.sort((a, b) => a - b))
  }
  return clusters
}

const subsets = <Item>(items: readonly Item[]): Item[][] =>
  Array.from({ length: 1 << items.length }, (_, mask) => items.filter((_, i) => mask & (1 << i)))

/** Most head of clusters closed whole, by trying all of them. */
function bestClosed(sketches: readonly Sketch[], clusters: readonly number[][], yards: number): number {
  const can = clusters.filter((ids) => ids.every((id) => !sketches[id - 1]!.isBlocked))
  const cost = (chosen: readonly number[][]) =>
    chosen.flat().filter((id) => !sketches[id - 1]!.hasYard).length
  const head = (chosen: readonly number[][]) =>
    chosen.flat().reduce((sum, id) => sum + headAt(sketches[id - 1]!), 0)
  return Math.max(
    ...subsets(can)
      .filter((chosen) => cost(chosen) <= yards)
      .map(head),
  )
}

/** Most head met by so many yards, by trying all places; an animal drinks once a day. */
function bestMet(
  sketches: readonly Sketch[],
  clusters: readonly number[][],
  { yards, nights }: { readonly yards: number; readonly nights: number },
): number | null {
  const used = clusters.flat()
  const free = used.filter((id) => !sketches[id - 1]!.isBlocked)
  const standing = free.filter((id) => sketches[id - 1]!.hasYard)
  const candidates = free.filter((id) => !standing.includes(id) && headAt(sketches[id - 1]!) > 0)
  const groups = clusters.filter((ids) => ids.some((id) => headAt(sketches[id - 1]!) > 0))
  if (groups.length === 0 || free.every((id) => headAt(sketches[id - 1]!) === 0)) return null
  const met = (set: readonly number[]) =>
    groups.reduce((sum, ids) => {
      const head = ids.reduce((total, id) => total + headAt(sketches[id - 1]!), 0)
      const atSet = ids
        .filter((id) => set.includes(id))
        .reduce((total, id) => total + headAt(sketches[id - 1]!), 0)
      return sum + head * (1 - (1 - atSet / head) ** nights)
    }, 0)
  return Math.max(
    ...subsets(candidates)
      .filter((chosen) => chosen.length <= yards)
      .map((chosen) => met([...standing, ...chosen])),
  )
}

describe('on 300 seeded stations', () => {
  const draw = drawsFrom(7)
  const stations = Array.from({ length: 300 }, () => drawnStation(draw))

  it('waters are together as somebody finds who walks from one to the next', () => {
    for (const { sketches, given, rangeKm } of stations) {
      const told = yardPlaces(given).clusters.map(({ pointIds }) => [...pointIds])
      expect(told.sort((a, b) => a[0]! - b[0]!)).toEqual(clustersByWalking(sketches, rangeKm))
    }
  })

  it('no choice of whole clusters has more head, and none takes more yards than there are', () => {
    let closedSome = 0
    for (const { sketches, given, rangeKm } of stations) {
      const { close } = yardPlaces(given)
      const best = bestClosed(sketches, clustersByWalking(sketches, rangeKm), given.means.portableYards)
      expect(close.head).toBeCloseTo(best, 2)
      expect(close.setAt.length).toBeLessThanOrEqual(given.means.portableYards)
      if (close.closed.length > 0) closedSome++
    }
    expect(closedSome).toBeGreaterThan(50)
  })

  it('no choice of points meets more', () => {
    let setSome = 0
    for (const { sketches, given, rangeKm } of stations) {
      const { meet } = yardPlaces(given)
      const best = bestMet(sketches, clustersByWalking(sketches, rangeKm), {
        yards: given.means.portableYards,
        nights: given.means.nightsSet,
      })
      if (best === null) expect(meet).toBeNull()
      else {
        expect(meet!.how).toBe('every choice tried')
        expect(meet!.met).toBeCloseTo(best, 9)
        if (meet!.points.length > 0) setSome++
      }
    }
    expect(setSome).toBeGreaterThan(50)
  })

  it('nothing is proposed at a water that lacks other water', () => {
    for (const { sketches, given } of stations) {
      const { close, meet, standing, clusters } = yardPlaces(given)
      const closedAt = clusters
        .filter(({ clusterId }) => close.closed.includes(clusterId))
        .flatMap(({ pointIds }) => pointIds)
      for (const id of [...closedAt, ...close.setAt, ...standing, ...(meet?.points ?? [])])
        expect(sketches[id - 1]!.isBlocked).toBe(false)
    }
  })

  it('waters near a cluster where none came are those within the range of one of its own', () => {
    for (const { sketches, given, rangeKm } of stations) {
      for (const { pointIds, nearby } of yardPlaces(given).clusters) {
        const near = sketches.flatMap((sketch, i) =>
          !isUsed(sketch) && pointIds.some((id) => squareKm(sketch, sketches[id - 1]!) <= rangeKm ** 2)
            ? [i + 1]
            : [],
        )
        expect(nearby.map(({ pointId }) => pointId).sort((a, b) => a - b)).toEqual(near)
      }
    }
  })
})

describe('a cluster’s head', () => {
  it('has limits round it, and none where nothing was watched', () => {
    const camels = { east: 0, north: 0, hasYard: true, isBlocked: false, watchedNights: 40 }
    const given = (sketches: readonly Sketch[]): YardGiven => ({
      waters: sketches.map(waterOf),
      rangeKm: 10,
      zone,
      ratings: DEFAULT_RATINGS.camel,
      means: { portableYards: 0, nightsSet: 7 },
      dispersion: 1,
    })
    const [seen] = yardPlaces(given([{ ...camels, peaks: Array(20).fill(4) }])).clusters
    expect(seen!.head!.rate).toBeCloseTo(2, 12)
    expect(seen!.head!.low).toBeLessThan(2)
    expect(seen!.head!.high).toBeGreaterThan(2)
    const [blind] = yardPlaces(given([{ ...camels, watchedNights: 0, peaks: [] }])).clusters
    expect(blind).toMatchObject({ head: null, unsureIds: [1] })
  })
})
