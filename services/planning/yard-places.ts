/** Where to set gates for ONE species: clusters to close off whole, and, apart from that, where the yards there are meet most. */
import { loadOf, type Ratings } from '../tally/load.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type PointNight, plus, type SpellTotals, totalOf } from '../tally/spell-totals.ts'
import type { Zone } from '../words.ts'
import { type ClosePlan, closeClusters } from './close-clusters.ts'
import { kilometresBetween, type Place } from './distance.ts'
import { drinkingGroup } from './drinking-groups.ts'
import type { WatchedPoint } from './followed-on.ts'
import { type MeetPlan, meetMost } from './meet-most.ts'
import type { RangedGroup } from './met-range.ts'
import { type SharedPair, waterClusters } from './shared-use.ts'
import { animalVisitsTogether } from './waters-together.ts'
import { type WaterUse, waterUse } from './waters-used.ts'

/** A water and what came of the species in the nights looked at. */
export interface YardWater extends Place {
  readonly pointId: number
  readonly hasYard: boolean
  readonly nights: readonly PointNight[]
  /** For what follows what; null where no camera stands. */
  readonly watched: WatchedPoint | null
  /** It lacks something before it may be proposed for closing (other-water.ts). */
  readonly isBlocked: boolean
}

export interface YardMeans {
  readonly portableYards: number
  /** Nights for which the gates are set. */
  readonly nightsSet: number
}

export interface YardGiven {
  readonly waters: readonly YardWater[]
  readonly rangeKm: number
  readonly zone: Zone
  readonly ratings: Ratings
  readonly means: YardMeans
  /** The species' dispersion factor, at least 1. */
  readonly dispersion: number
}

export interface WaterSeen {
  readonly pointId: number
  readonly use: WaterUse
  readonly totals: SpellTotals
  /** Animal-visits a watched night, with limits; null: not watched. */
  readonly rate: RateInterval | null
}

export interface YardCluster {
  /** That of its first water. */
  readonly clusterId: number
  readonly pointIds: readonly number[]
  readonly pairs: readonly SharedPair[]
  /** Head that drink there; null where none of its waters was watched. */
  readonly head: RateInterval | null
  /** Waters of it that were not watched enough to say that none come. */
  readonly unsureIds: readonly number[]
  /** Waters within the range of one of its own where none came: open, and they may shift there. */
  readonly nearby: ReadonlyArray<{ readonly pointId: number; readonly km: number }>
  readonly blockedIds: readonly number[]
}

export interface YardPlaces {
  readonly waters: readonly WaterSeen[]
  /** Most head first. */
  readonly clusters: readonly YardCluster[]
  /** Of the clusters that lack nothing. */
  readonly close: ClosePlan
  /** Of waters that lack nothing; null where there is none to set, or nobody comes. */
  readonly meet: MeetPlan | null
  /** Yards that stand for good and are set in both. */
  readonly standing: readonly number[]
  readonly groups: readonly RangedGroup[]
}

export function yardPlaces(given: YardGiven): YardPlaces {
  const seen = watersSeen(given)
  const used = given.waters.filter((_, i) => seen[i]!.use !== 'not seen')
  const clusters = waterClusters(used, given)
    .map(({ pointIds, pairs }) => clusterOf({ pointIds, pairs }, { given, seen }))
    .sort((a, b) => (b.head?.rate ?? 0) - (a.head?.rate ?? 0) || a.clusterId - b.clusterId)
  const standing = used
    .filter(({ hasYard, isBlocked }) => hasYard && !isBlocked)
    .map(({ pointId }) => pointId)
  const groups = clusters.flatMap((cluster) => groupOf(cluster, { given, seen }))
  return {
    waters: seen,
    clusters,
    close: closeClusters(
      clusters.flatMap((cluster) => toClose(cluster, used)),
      given.means.portableYards,
    ),
    meet: meetOf({ used, groups, standing }, given.means),
    standing,
    groups,
  }
}

function watersSeen({ waters, dispersion }: YardGiven): WaterSeen[] {
  const totals = waters.map(({ nights }) => totalOf(nights))
  const meanPeak = meanPeakOf(totals)
  return waters.map(({ pointId }, i) => ({
    pointId,
    use: waterUse(totals[i]!),
    totals: totals[i]!,
    rate: animalVisitsTogether([totals[i]!], { meanPeak, dispersion }),
  }))
}

/** Over the station; null without a visit. */
function meanPeakOf(totals: readonly SpellTotals[]): number | null {
  const all = totals.reduce<SpellTotals | null>((sum, one) => (sum === null ? one : plus(sum, one)), null)
  return all === null || all.visits === 0 ? null : all.animalVisits / all.visits
}

interface Frame {
  readonly given: YardGiven
  readonly seen: readonly WaterSeen[]
}

function clusterOf(
  { pointIds, pairs }: Pick<YardCluster, 'pointIds' | 'pairs'>,
  { given, seen }: Frame,
): YardCluster {
  const own = seen.filter(({ pointId }) => pointIds.includes(pointId))
  const places = given.waters.filter(({ pointId }) => pointIds.includes(pointId))
  const rate = animalVisitsTogether(
    own.map(({ totals }) => totals),
    { meanPeak: meanPeakOf(seen.map(({ totals }) => totals)), dispersion: given.dispersion },
  )
  return {
    clusterId: pointIds[0]!,
    pointIds,
    pairs,
    head: rate && loadOf(rate, given.ratings).head,
    unsureIds: own.filter(({ use }) => use === 'not watched enough').map(({ pointId }) => pointId),
    nearby: given.waters
      .filter(({ pointId }) => seen.find((water) => water.pointId === pointId)!.use === 'not seen')
      .map((water) => ({
        pointId: water.pointId,
        km: Math.min(...places.map((place) => kilometresBetween(place, water))),
      }))
      .filter(({ km }) => km <= given.rangeKm)
      .sort((a, b) => a.km - b.km || a.pointId - b.pointId),
    blockedIds: places.filter(({ isBlocked }) => isBlocked).map(({ pointId }) => pointId),
  }
}

/** None where nothing was seen: animals that nobody saw are no group. */
function groupOf({ pointIds, head }: YardCluster, { given, seen }: Frame): RangedGroup[] {
  const rates = new Map(
    seen
      .filter(({ pointId, rate }) => pointIds.includes(pointId) && rate !== null)
      .map(({ pointId, rate }) => [pointId, rate!.rate]),
  )
  const { low, high } = given.ratings.visitsADay
  const group = drinkingGroup(rates, { drinksADay: (low + high) / 2, nights: given.means.nightsSet })
  return group === null || head === null ? [] : [{ group, head }]
}

function toClose({ clusterId, pointIds, head, blockedIds }: YardCluster, used: readonly YardWater[]) {
  if (head === null || blockedIds.length > 0) return []
  const points = used
    .filter(({ pointId }) => pointIds.includes(pointId))
    .map(({ pointId, hasYard }) => ({ pointId, fixedYard: hasYard }))
  return [{ clusterId, head: head.rate, points }]
}

function meetOf(
  {
    used,
    groups,
    standing,
  }: Pick<YardPlaces, 'groups' | 'standing'> & { readonly used: readonly YardWater[] },
  { portableYards }: YardMeans,
): MeetPlan | null {
  const drunkAt = new Set(
    groups.flatMap(({ group }) => [...group.shares].map(([id, share]) => (share > 0 ? id : 0))),
  )
  const free = used
    .filter(({ pointId, isBlocked }) => !isBlocked && drunkAt.has(pointId))
    .map(({ pointId }) => pointId)
  if (groups.length === 0 || free.length === 0) return null
  return meetMost({
    groups: groups.map(({ group }) => group),
    candidates: free,
    already: standing,
    yards: portableYards,
  })
}
