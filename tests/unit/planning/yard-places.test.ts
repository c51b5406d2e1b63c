/** Whole gate plans on seeded stations, against every choice tried and every number made in another way. */
import { describe, expect, it } from 'vitest'
import { type YardGiven, type YardWater, yardPlaces } from '../../../services/planning/yard-places.ts'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import { nightsOn } from '../../../services/tally/nights.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'
import type { NightDate, Zone } from '../../../services/words.ts'
import { bestClosed, bestMet, clustersByWalking, type SketchedWater, squareKm } from './every-gate-plan.ts'

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

const sketchedWaters = (sketches: readonly Sketch[]): SketchedWater[] =>
  sketches.map(({ peaks, watchedNights, ...sketch }, i) => ({
    ...sketch,
    pointId: i + 1,
    head: watchedNights === 0 ? 0 : peaks.reduce((sum, peak) => sum + peak, 0) / watchedNights,
    isUsed: peaks.length > 0 || watchedNights < 14,
  }))

describe('on 300 seeded stations', () => {
  const draw = drawsFrom(7)
  const stations = Array.from({ length: 300 }, () => drawnStation(draw))

  it('waters are together as somebody finds who walks from one to the next', () => {
    for (const { sketches, given, rangeKm } of stations) {
      const told = yardPlaces(given).clusters.map(({ pointIds }) => [...pointIds])
      expect(told.sort((a, b) => a[0]! - b[0]!)).toEqual(clustersByWalking(sketchedWaters(sketches), rangeKm))
    }
  })

  it('no choice of whole clusters has more head, and none takes more yards than there are', () => {
    let closedSome = 0
    for (const { sketches, given, rangeKm } of stations) {
      const { close } = yardPlaces(given)
      const best = bestClosed(sketchedWaters(sketches), { rangeKm, yards: given.means.portableYards })
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
      const best = bestMet(sketchedWaters(sketches), {
        rangeKm,
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
        const waters = sketchedWaters(sketches)
        const near = waters
          .filter(({ isUsed }) => !isUsed)
          .filter((water) => pointIds.some((id) => squareKm(water, waters[id - 1]!) <= rangeKm ** 2))
          .map(({ pointId }) => pointId)
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
