/** Waters that share animals: clusters by distance, and what the cameras say of each pair. ONE species at a time. */
import type { Zone } from '../words.ts'
import { kilometresBetween, type Place } from './distance.ts'
import { type FollowedOn, type FollowHours, followedOn, type WatchedPoint } from './followed-on.ts'

export interface SharedPoint extends Place {
  readonly pointId: number
  /** Null where no camera stands. */
  readonly watched: WatchedPoint | null
}

/** Two points within the species' daily range. */
export interface SharedPair {
  readonly pointIds: readonly [number, number]
  readonly km: number
  /** Null: by distance only, as not both are watched. */
  readonly followed: FollowedOn | null
}

export interface WaterCluster {
  /** In rising order; a point that shares with none is a cluster of its own. */
  readonly pointIds: readonly number[]
  readonly pairs: readonly SharedPair[]
}

/** A camel walks about this fast without hurry (from memory, check locally); nothing follows in less than the way takes. */
const WALKING_KM_AN_HOUR = 5
/** The next drink within a day and a half. */
const MOST_HOURS = 36

/**
 * Clusters by single linkage (Sneath 1957, Journal of General Microbiology 17:201-226, from memory): waters are together
 * when a chain of steps of at most `rangeKm` joins them. What cameras saw stands beside each pair and neither joins nor
 * parts: a range is where animals may go, and a camera that saw no move proves no fence. In order of each first point.
 */
export function waterClusters(
  points: readonly SharedPoint[],
  { rangeKm, zone }: { readonly rangeKm: number; readonly zone: Zone },
): WaterCluster[] {
  const inOrder = [...points].sort((a, b) => a.pointId - b.pointId)
  const pairs = pairsWithin(inOrder, { rangeKm, zone })
  const first = new Map(inOrder.map(({ pointId }) => [pointId, pointId]))
  for (const { pointIds } of pairs) {
    const [a, b] = pointIds.map((id) => first.get(id)!).sort((x, y) => x - y)
    for (const [id, of] of first) if (of === b) first.set(id, a!)
  }
  return [...new Set(first.values())].map((of) => ({
    pointIds: inOrder.map(({ pointId }) => pointId).filter((id) => first.get(id) === of),
    pairs: pairs.filter(({ pointIds }) => first.get(pointIds[0]) === of),
  }))
}

function pairsWithin(
  points: readonly SharedPoint[],
  { rangeKm, zone }: { readonly rangeKm: number; readonly zone: Zone },
): SharedPair[] {
  return points.flatMap((a, i) =>
    points.slice(i + 1).flatMap((b): SharedPair[] => {
      const km = kilometresBetween(a, b)
      if (km > rangeKm) return []
      const followed =
        a.watched && b.watched && followedOn(a.watched, b.watched, { hours: hoursFor(km), zone })
      return [{ pointIds: [a.pointId, b.pointId], km, followed }]
    }),
  )
}

const hoursFor = (km: number): FollowHours => ({ least: km / WALKING_KM_AN_HOUR, most: MOST_HOURS })
