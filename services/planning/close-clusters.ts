/** Which clusters of waters can be closed off whole with the yards there are: a cluster with one open water is not closed. */

export interface ClusterToClose {
  readonly clusterId: number
  /** Head that use it, at least 0. */
  readonly head: number
  readonly points: ReadonlyArray<{
    readonly pointId: number
    /** A yard that stands there for good costs none of the portable ones. */
    readonly fixedYard: boolean
  }>
}

export interface ClosePlan {
  /** Clusters closed whole, by id. */
  readonly closed: readonly number[]
  readonly head: number
  /** Points that get a portable yard, by id. */
  readonly setAt: readonly number[]
  readonly yardsLeft: number
  /** The others, most head first: where they need a yard, and how many are short of closing each of them next. */
  readonly open: ReadonlyArray<{
    readonly clusterId: number
    readonly head: number
    readonly needAt: readonly number[]
    readonly yardsShort: number
  }>
}

/** Heads are compared to a thousandth, so that sums in another order are still ties. */
const PARTS_OF_A_HEAD = 1000

/**
 * The choice with the most head for at most `portableYards` (whole, at least 0), exactly: the 0-1 knapsack by dynamic
 * programming (Bellman 1957, Dynamic Programming; Kellerer, Pferschy & Pisinger 2004, section 2.3; from memory). Ties go to
 * fewer yards, then to the lower ids.
 * @throws RangeError outside these
 */
export function closeClusters(clusters: readonly ClusterToClose[], portableYards: number): ClosePlan {
  if (!(Number.isInteger(portableYards) && portableYards >= 0))
    throw new RangeError(`yards are a whole number, and this is ${portableYards}`)
  const inOrder = [...clusters].sort((a, b) => a.clusterId - b.clusterId)
  if (inOrder.some(({ head }) => !(head >= 0))) throw new RangeError('a cluster has some head, or none')
  const chosen = new Set(knapsack(inOrder, portableYards))
  const closed = inOrder.filter((cluster) => chosen.has(cluster))
  const setAt = closed.flatMap(yardsNeeded).sort((a, b) => a - b)
  const yardsLeft = portableYards - setAt.length
  return {
    closed: closed.map(({ clusterId }) => clusterId),
    head: closed.reduce((sum, { head }) => sum + head, 0),
    setAt,
    yardsLeft,
    open: inOrder
      .filter((cluster) => !chosen.has(cluster))
      .sort((a, b) => b.head - a.head || a.clusterId - b.clusterId)
      .map((cluster) => {
        const needAt = yardsNeeded(cluster)
        return {
          clusterId: cluster.clusterId,
          head: cluster.head,
          needAt,
          yardsShort: Math.max(0, needAt.length - yardsLeft),
        }
      }),
  }
}

const yardsNeeded = ({ points }: ClusterToClose) =>
  points
    .filter(({ fixedYard }) => !fixedYard)
    .map(({ pointId }) => pointId)
    .sort((a, b) => a - b)

interface Best {
  readonly value: number
  readonly yards: number
  /** The cluster taken here, and the best of what comes after it. */
  readonly taken: ClusterToClose | null
  readonly rest: Best | null
}
const NOTHING: Best = { value: 0, yards: 0, taken: null, rest: null }

function knapsack(clusters: readonly ClusterToClose[], yards: number): ClusterToClose[] {
  // From the last cluster to the first: of equal choices the one that takes the lower id then wins.
  let best: Best[] = Array.from({ length: yards + 1 }, () => NOTHING)
  for (const cluster of [...clusters].reverse()) {
    const cost = yardsNeeded(cluster).length
    const value = Math.round(cluster.head * PARTS_OF_A_HEAD)
    best = best.map((without, room) => {
      if (cost > room || value === 0) return without
      const rest = best[room - cost]!
      const taken = { value: value + rest.value, yards: cost + rest.yards, taken: cluster, rest }
      return taken.value > without.value || (taken.value === without.value && taken.yards <= without.yards)
        ? taken
        : without
    })
  }
  const chosen: ClusterToClose[] = []
  for (let at: Best | null = best[yards]!; at?.taken; at = at.rest) chosen.push(at.taken)
  return chosen
}
