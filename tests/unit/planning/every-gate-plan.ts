/** Gate plans made in another way: waters are walked through, every choice of clusters and of points is tried. */

export interface SketchedWater {
  readonly pointId: number
  /** Kilometres on a flat sheet. */
  readonly east: number
  readonly north: number
  readonly hasYard: boolean
  /** It must not be proposed for closing. */
  readonly isBlocked: boolean
  /** Head that drink there on a night; an animal drinks once a day. */
  readonly head: number
  /** Animals were seen there, or nobody can say that none came. */
  readonly isUsed: boolean
}

export const squareKm = (a: SketchedWater, b: SketchedWater): number =>
  (a.east - b.east) ** 2 + (a.north - b.north) ** 2

/** Clusters by walking from water to water: ids, in rising order, by the first of each. */
export function clustersByWalking(waters: readonly SketchedWater[], rangeKm: number): number[][] {
  return walked(waters, rangeKm).map((cluster) => cluster.map(({ pointId }) => pointId))
}

function walked(waters: readonly SketchedWater[], rangeKm: number): SketchedWater[][] {
  const left = new Set(waters.filter(({ isUsed }) => isUsed))
  const clusters: SketchedWater[][] = []
  for (const start of left) {
    const cluster = [start]
    left.delete(start)
    for (let at = 0; at < cluster.length; at++)
      for (const water of left)
        if (squareKm(water, cluster[at]!) <= rangeKm ** 2) {
          left.delete(water)
          cluster.push(water)
        }
    clusters.push(cluster.sort((a, b) => a.pointId - b.pointId))
  }
  return clusters
}

const subsets = <Item>(items: readonly Item[]): Item[][] =>
  Array.from({ length: 1 << items.length }, (_, mask) => items.filter((_, i) => mask & (1 << i)))

const headOf = (waters: readonly SketchedWater[]) => waters.reduce((sum, { head }) => sum + head, 0)

/** Most head of clusters closed whole. */
export function bestClosed(
  waters: readonly SketchedWater[],
  { rangeKm, yards }: { readonly rangeKm: number; readonly yards: number },
): number {
  const can = walked(waters, rangeKm).filter((cluster) => cluster.every(({ isBlocked }) => !isBlocked))
  const heads = subsets(can)
    .map((chosen) => chosen.flat())
    .filter((chosen) => chosen.filter(({ hasYard }) => !hasYard).length <= yards)
    .map(headOf)
  return Math.max(...heads)
}

/** Most head that comes to so many portable yards and to those that stand; null where there is nothing to set. */
export function bestMet(
  waters: readonly SketchedWater[],
  asked: { readonly rangeKm: number; readonly yards: number; readonly nights: number },
): number | null {
  const clusters = walked(waters, asked.rangeKm).filter((cluster) => headOf(cluster) > 0)
  const free = waters.filter(({ isUsed, isBlocked }) => isUsed && !isBlocked)
  if (headOf(free) === 0) return null
  const standing = free.filter(({ hasYard }) => hasYard)
  const met = (set: readonly SketchedWater[]) =>
    clusters.reduce((sum, cluster) => {
      const atSet = headOf(cluster.filter((water) => set.includes(water)))
      return sum + headOf(cluster) * (1 - (1 - atSet / headOf(cluster)) ** asked.nights)
    }, 0)
  const places = subsets(free.filter(({ hasYard, head }) => !hasYard && head > 0))
  return Math.max(
    ...places.filter(({ length }) => length <= asked.yards).map((chosen) => met([...standing, ...chosen])),
  )
}
