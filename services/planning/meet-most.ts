/** Where to set the yards there are so that they meet the most animals, when no cluster can be closed off whole. */
import { type DrinkingGroup, shareAt } from './drinking-groups.ts'

export interface YardsToSet {
  /** Each point once, in any order. */
  readonly groups: readonly DrinkingGroup[]
  readonly candidates: readonly number[]
  /** Points whose yards stand for good and are set as well. */
  readonly already: readonly number[]
  /** Portable yards, whole, at least 0. */
  readonly yards: number
}

export interface MeetPlan {
  /** In the order of what each adds; the points of `already` are not among them. */
  readonly points: readonly number[]
  /** Head expected to meet a set yard at least once, with those of `already`. */
  readonly met: number
  /** Head of all groups. */
  readonly of: number
  readonly how: 'every choice tried' | 'step by step'
  /** What the chosen points add is at least this part of the most that any choice could add. */
  readonly atLeastOfBest: number
  /** What one more yard would add, and where; null where no candidate is left. */
  readonly oneMore: { readonly pointId: number; readonly head: number } | null
}

/** Up to so many choices are all tried. */
export const MOST_CHOICES = 20_000

/**
 * Head expected to meet a yard at one of `points`: the sum over groups of h (1 - (1 - q)^V), with h head, q the share of
 * their drinks there and V their drinks, each taken to fall by chance. It grows with every point and ever more slowly
 * (monotone and submodular), as V is at least 1.
 */
export function headMet(groups: readonly DrinkingGroup[], points: Iterable<number>): number {
  const set = [...new Set(points)]
  return groups.reduce((sum, group) => sum + group.head * (1 - (1 - shareAt(group, set)) ** group.drinks), 0)
}

/**
 * The points to set `yards` at: every choice tried where there are few, else greedily, which reaches at least
 * 1 - (1 - 1/k)^k of the best (Nemhauser, Wolsey & Fisher 1978, Mathematical Programming 14:265-294,
 * doi:10.1007/BF01588971). Ties go to lower ids.
 * @throws RangeError for a group with less than one drink, or yards that are no whole number
 */
export function meetMost(given: YardsToSet): MeetPlan {
  const { groups, already, yards } = given
  if (!(Number.isInteger(yards) && yards >= 0))
    throw new RangeError(`yards are a whole number, and this is ${yards}`)
  if (groups.some(({ drinks }) => !(drinks >= 1))) throw new RangeError('a group drinks once at least')
  const candidates = [...new Set(given.candidates)]
    .filter((id) => !already.includes(id))
    .sort((a, b) => a - b)
  const k = Math.min(yards, candidates.length)
  const all = choices(candidates.length, k) <= MOST_CHOICES
  const points = all
    ? greedyPoints({ ...given, candidates: bestChoice({ ...given, candidates, yards: k }), yards: k })
    : greedyPoints({ ...given, candidates, yards: k })
  const met = headMet(groups, [...already, ...points])
  const [next] = gains(groups, [...already, ...points], candidates)
  return {
    points,
    met,
    of: groups.reduce((sum, { head }) => sum + head, 0),
    how: all ? 'every choice tried' : 'step by step',
    atLeastOfBest: all ? 1 : partOfBest(given, points, candidates),
    oneMore: next ?? null,
  }
}

/** Step by step the point that adds most. */
export function greedyPoints({ groups, candidates, already, yards }: YardsToSet): number[] {
  const points: number[] = []
  while (points.length < yards) {
    const [next] = gains(groups, [...already, ...points], candidates)
    if (next === undefined) break
    points.push(next.pointId)
  }
  return points
}

/** What each further point would add, most first. */
function gains(
  groups: readonly DrinkingGroup[],
  set: readonly number[],
  candidates: readonly number[],
): Array<{ pointId: number; head: number }> {
  const met = headMet(groups, set)
  return candidates
    .filter((pointId) => !set.includes(pointId))
    .map((pointId) => ({ pointId, head: headMet(groups, [...set, pointId]) - met }))
    .sort((a, b) => b.head - a.head || a.pointId - b.pointId)
}

/** The better of the bound for every instance and that for this one: no choice adds more than f + its k largest gains. */
function partOfBest(
  { groups, already }: YardsToSet,
  points: readonly number[],
  candidates: readonly number[],
): number {
  const k = points.length
  const added = headMet(groups, [...already, ...points]) - headMet(groups, already)
  const more = gains(groups, [...already, ...points], candidates)
    .slice(0, k)
    .reduce((sum, { head }) => sum + head, 0)
  return added + more === 0 ? 1 : Math.max(1 - (1 - 1 / k) ** k, added / (added + more))
}

function bestChoice({ groups, candidates, already, yards }: YardsToSet): number[] {
  let best: number[] = []
  let most = Number.NEGATIVE_INFINITY
  const choose = (chosen: number[], from: number) => {
    if (chosen.length === yards) {
      const met = headMet(groups, [...already, ...chosen])
      if (met > most) [best, most] = [[...chosen], met]
      return
    }
    for (let i = from; i <= candidates.length - (yards - chosen.length); i++)
      choose([...chosen, candidates[i]!], i + 1)
  }
  choose([], 0)
  return best
}

function choices(of: number, take: number): number {
  let count = 1
  for (let i = 1; i <= take; i++) count = (count * (of - take + i)) / i
  return count
}
