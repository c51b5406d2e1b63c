/** The shortest round through some places and back: exactly where they are few. Places are numbers, 0 is where it begins. */

/** Kilometres between each two places, the same both ways. */
export type Matrix = ReadonlyArray<readonly number[]>

/** Up to so many places besides the first are tried exactly. */
export const MOST_EXACT = 12
/** Shorter by less is as long. */
const SAME_KM = 1e-9
const MOST_STARTS = 12

export const roundLength = (order: readonly number[], km: Matrix): number =>
  [0, ...order].reduce((sum, place, i) => sum + km[place]![order[i] ?? 0]!, 0)

/** Places 1 to n - 1 in an order; of the two ways round the one that begins with the lower place. */
export function shortestRound(km: Matrix): number[] {
  const order = km.length - 1 <= MOST_EXACT ? exactRound(km) : nearlyShortestRound(km)
  return order.length > 1 && order[0]! > order.at(-1)! ? order.reverse() : order
}

/**
 * Exactly: for each set of places and each last one of it the shortest way there (Held & Karp 1962, Journal of the Society
 * for Industrial and Applied Mathematics 10:196-210, doi:10.1137/0110015).
 */
export function exactRound(km: Matrix): number[] {
  const n = km.length - 1
  if (n < 1) return []
  const sets = 1 << n
  const way = new Float64Array(sets * n).fill(Number.POSITIVE_INFINITY)
  const before = new Int8Array(sets * n).fill(-1)
  for (let last = 0; last < n; last++) way[(1 << last) * n + last] = km[0]![last + 1]!
  for (let set = 1; set < sets; set++) {
    for (let last = 0; last < n; last++) {
      const here = way[set * n + last]!
      if (here === Number.POSITIVE_INFINITY) continue
      for (let next = 0; next < n; next++) {
        if (set & (1 << next)) continue
        const at = (set | (1 << next)) * n + next
        const longer = here + km[last + 1]![next + 1]!
        if (longer < way[at]!) {
          way[at] = longer
          before[at] = last
        }
      }
    }
  }
  const all = sets - 1
  let last = 0
  for (let end = 1; end < n; end++)
    if (way[all * n + end]! + km[end + 1]![0]! < way[all * n + last]! + km[last + 1]![0]!) last = end
  const order: number[] = []
  for (let set = all; last >= 0; ) {
    order.unshift(last + 1)
    const earlier = before[set * n + last]!
    set &= ~(1 << last)
    last = earlier
  }
  return order
}

/**
 * Nearly: from some first places on always to the nearest, then mended by turning stretches round (2-opt: Croes 1958,
 * Operations Research 6:791-812, doi:10.1287/opre.6.6.791) and by moving up to three places elsewhere (Or 1976, from memory)
 * until neither makes it shorter.
 */
export function nearlyShortestRound(km: Matrix): number[] {
  const firsts = km.slice(1).map((_, i) => i + 1)
  firsts.sort((a, b) => km[0]![a]! - km[0]![b]! || a - b)
  let best: number[] = []
  let shortest = Number.POSITIVE_INFINITY
  for (const first of firsts.slice(0, MOST_STARTS)) {
    const order = mended(alwaysNearest(first, km), km)
    const length = roundLength(order, km)
    if (length < shortest - SAME_KM) [best, shortest] = [order, length]
  }
  return best
}

function alwaysNearest(first: number, km: Matrix): number[] {
  const order = [first]
  const left = new Set(km.slice(1).map((_, i) => i + 1))
  left.delete(first)
  while (left.size > 0) {
    const here = order.at(-1)!
    const next = [...left].reduce((a, b) => (km[here]![b]! < km[here]![a]! ? b : a))
    order.push(next)
    left.delete(next)
  }
  return order
}

function mended(start: number[], km: Matrix): number[] {
  let order = start
  for (let better: number[] | null = order; better !== null; ) {
    order = better
    better = turned(order, km) ?? moved(order, km)
  }
  return order
}

/** With one stretch turned round, if that makes it shorter. */
function turned(order: readonly number[], km: Matrix): number[] | null {
  const at = (i: number) => order[i] ?? 0
  for (let from = 0; from < order.length - 1; from++) {
    for (let to = from + 1; to < order.length; to++) {
      const now = km[at(from - 1)]![at(from)]! + km[at(to)]![at(to + 1)]!
      const then = km[at(from - 1)]![at(to)]! + km[at(from)]![at(to + 1)]!
      if (then < now - SAME_KM)
        return [...order.slice(0, from), ...order.slice(from, to + 1).reverse(), ...order.slice(to + 1)]
    }
  }
  return null
}

const MOST_MOVED = 3

/** With one to three neighbours moved elsewhere, either way round, if that makes it shorter. */
function moved(order: readonly number[], km: Matrix): number[] | null {
  for (let many = 1; many <= Math.min(MOST_MOVED, order.length - 1); many++) {
    for (let from = 0; from + many <= order.length; from++) {
      const stretch = order.slice(from, from + many)
      const rest = [...order.slice(0, from), ...order.slice(from + many)]
      const at = (i: number) => rest[i] ?? 0
      const [first, last] = [stretch[0]!, stretch.at(-1)!]
      const without =
        km[at(from - 1)]![first]! + km[last]![at(from)]! - km[at(from - 1)]![at(from)]! - SAME_KM
      for (let to = 0; to <= rest.length; to++) {
        const [a, b] = [at(to - 1), at(to)]
        const forth = km[a]![first]! + km[last]![b]! - km[a]![b]!
        const back = km[a]![last]! + km[first]![b]! - km[a]![b]!
        if (Math.min(forth, back) >= without) continue
        const way = forth <= back ? stretch : [...stretch].reverse()
        return [...rest.slice(0, to), ...way, ...rest.slice(to)]
      }
    }
  }
  return null
}
