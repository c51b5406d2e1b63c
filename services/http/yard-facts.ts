/** What every answer about trap yards rests on: eight weeks of nights that are over, and what people said. */
import { lackForProposal, type OtherWaterLack, type OtherWaters } from '../planning/other-water.ts'
import { type YardPlaces, type YardWater, yardPlaces } from '../planning/yard-places.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints, type PointRow } from '../store/points.ts'
import { readRatings } from '../store/ratings.ts'
import { readSettings, type Settings } from '../store/settings.ts'
import {
  countAnimalVisits,
  readYardSightings,
  readYardStates,
  type YardSightings,
  type YardStates,
} from '../store/yard-sightings.ts'
import {
  type DailyRanges,
  readDailyRanges,
  readOtherWater,
  readYardMeans,
  type YardMeansWord,
} from '../store/yard-words.ts'
import { type Dispersion, dispersionOf } from '../tally/dispersion.ts'
import type { Ratings } from '../tally/load.ts'
import { nightOf, nightSpell, nightsOn, previousNight } from '../tally/nights.ts'
import type { PointNight } from '../tally/spell-totals.ts'
import { type Instant, type NightDate, SPECIES, type Species, type Zone } from '../words.ts'

export const NIGHTS_LOOKED_AT = 56
/** A night with an hour or two missing is as good as whole for what follows what. */
const AS_GOOD_AS_WHOLE = 0.9

export interface LookedAt {
  readonly from: NightDate
  readonly to: NightDate
}

export interface YardFacts {
  readonly now: Instant
  readonly settings: Settings
  readonly species: Species
  readonly animalVisits: ReadonlyMap<Species, number>
  readonly lookedAt: LookedAt
  readonly points: readonly PointRow[]
  readonly ratings: Ratings
  readonly means: YardMeansWord
  readonly ranges: DailyRanges
  readonly dispersion: Dispersion | null
  readonly waters: OtherWaters
  readonly lacks: ReadonlyMap<number, OtherWaterLack | null>
  readonly states: YardStates
  readonly places: YardPlaces
}

/** The last night that is over, and those before it. */
export function nightsLookedAt(now: Instant, zone: Zone): LookedAt {
  const to = previousNight(nightOf(now, zone))
  return { from: nightsOn(to, 1 - NIGHTS_LOOKED_AT), to }
}

export interface FactsAsked {
  /** Undefined: the feral one that is seen most. */
  readonly species: Species | undefined
  readonly now: Instant
  /** Also what cameras saw of moves between waters: most of the work on a station of many waters, and it decides nothing. */
  readonly withMoves?: boolean
}

export async function yardFacts(
  ledger: Ledger,
  { species: asked, now, withMoves = false }: FactsAsked,
): Promise<YardFacts> {
  const settings = await readSettings(ledger)
  const lookedAt = nightsLookedAt(now, settings.zone)
  const animalVisits = await countAnimalVisits(ledger, lookedAt)
  const species = asked ?? mostSeen(animalVisits, settings)
  const [points, sightings, means, ranges, words, states, ratings] = await Promise.all([
    listPoints(ledger),
    readYardSightings(ledger, { species: [species], ...lookedAt }),
    readYardMeans(ledger),
    readDailyRanges(ledger),
    readOtherWater(ledger),
    readYardStates(ledger),
    readRatings(ledger),
  ])
  const waters = {
    words,
    withoutWater: states.withoutWater,
    asked: { now, zone: settings.zone, latitude: settings.homestead.lat },
  }
  const lacks = new Map(points.map(({ id }) => [id, lackForProposal(id, waters)]))
  const nights = nightsOfSpecies(sightings, { species, zone: settings.zone })
  const dispersion = dispersionOf(
    points.flatMap(({ id }) =>
      nights(id).map(({ night, watched, peaks }) => ({ pointId: id, night, watched, visits: peaks.length })),
    ),
  )
  return {
    now,
    settings,
    species,
    animalVisits,
    lookedAt,
    points,
    ratings: ratings[species],
    means,
    ranges,
    dispersion,
    waters,
    lacks,
    states,
    places: yardPlaces({
      waters: points.map((point) =>
        waterOf(point, { visits: withMoves ? sightings.visits : null, nights: nights(point.id), lacks }),
      ),
      rangeKm: ranges[species].km,
      zone: settings.zone,
      ratings: ratings[species],
      means,
      dispersion: dispersion?.factor ?? 1,
    }),
  }
}

/** The feral species with the most animal-visits; where none is feral, the first. */
function mostSeen(seen: ReadonlyMap<Species, number>, { feral }: Settings): Species {
  const ranked = [...SPECIES].sort((a, b) => (seen.get(b) ?? 0) - (seen.get(a) ?? 0))
  return ranked.find((one) => feral.has(one)) ?? ranked[0]!
}

/** The nights of ONE species at each point that were watched at all, or had a visit. */
export function nightsOfSpecies(
  { visits, effort }: YardSightings,
  { species, zone }: { readonly species: Species; readonly zone: Zone },
): (pointId: number) => readonly PointNight[] {
  const byPoint = new Map<number, Map<NightDate, { watched: number; peaks: number[] }>>()
  const at = (pointId: number, night: NightDate) => {
    const nights = byPoint.get(pointId) ?? new Map<NightDate, { watched: number; peaks: number[] }>()
    byPoint.set(pointId, nights)
    const row = nights.get(night) ?? { watched: 0, peaks: [] }
    nights.set(night, row)
    return row
  }
  for (const { pointId, night, watchedSeconds } of effort) {
    const { from, to } = nightSpell(night, zone)
    at(pointId, night).watched = Math.min(1, (watchedSeconds * 1000) / (to - from))
  }
  for (const visit of visits)
    if (visit.species === species) at(visit.pointId, visit.night).peaks.push(visit.peak)
  return (pointId) => [...(byPoint.get(pointId) ?? [])].map(([night, row]) => ({ night, ...row }))
}

interface WaterFrame {
  /** Null: moves are not asked for. */
  readonly visits: YardSightings['visits'] | null
  readonly nights: readonly PointNight[]
  readonly lacks: ReadonlyMap<number, OtherWaterLack | null>
}

function waterOf(point: PointRow, { visits, nights, lacks }: WaterFrame): YardWater {
  const whole = nights.filter(({ watched }) => watched !== null && watched >= AS_GOOD_AS_WHOLE)
  return {
    pointId: point.id,
    lat: point.lat,
    lon: point.lon,
    hasYard: point.has_yard,
    nights,
    watched:
      visits === null || whole.length === 0
        ? null
        : {
            visits: visits.filter(({ pointId }) => pointId === point.id),
            watchedNights: whole.map(({ night }) => night),
          },
    isBlocked: lacks.get(point.id) !== null,
  }
}
