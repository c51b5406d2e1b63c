/** Gates where a person puts them, by the same functions as the proposal. */
import { addedBy, metRange, shiftRange } from '../planning/met-range.ts'
import { lackAt } from '../planning/other-water.ts'
import type { YardCluster } from '../planning/yard-places.ts'
import { Refusal } from '../refusal.ts'
import type { Ledger } from '../store/open.ts'
import type { Instant, Species } from '../words.ts'
import { rounded } from './rounded.ts'
import type { YardTryAnswer } from './trap-yard-shapes.ts'
import { NO_HEAD, plusInterval, roundedHead, roundedInterval } from './trap-yards-answer.ts'
import { type YardFacts, yardFacts } from './yard-facts.ts'

export async function yardTryOf(
  ledger: Ledger,
  asked: { readonly species: Species; readonly points: readonly number[]; readonly now: Instant },
): Promise<YardTryAnswer> {
  return tryOf(await yardFacts(ledger, asked), asked.points)
}

/** @throws Refusal for a point that is none */
export function tryOf(facts: YardFacts, set: readonly number[], field = 'points'): YardTryAnswer {
  const { places, points, waters } = facts
  const unknown = set.find((id) => !points.some((point) => point.id === id))
  if (unknown !== undefined)
    throw new Refusal({
      kind: 'not found',
      detail: `There is no point ${unknown}.`,
      field,
      remedy: 'Choose from the points that Trap yards shows.',
    })
  const touched = places.clusters.filter(({ pointIds }) => pointIds.some((id) => set.includes(id)))
  const open = (pointIds: readonly number[]) => pointIds.filter((id) => !set.includes(id))
  const range = metRange(places.groups, set)
  return {
    species: facts.species,
    lookedAt: { ...facts.lookedAt },
    pointIds: [...set],
    portableAt: points.filter(({ id, has_yard }) => set.includes(id) && !has_yard).map(({ id }) => id),
    met: roundedInterval(range.met),
    metIfKeeping: rounded(range.metIfKeeping),
    notMet: roundedInterval(range.notMet),
    of: roundedInterval(headOf(touched)),
    closedWhole: touched
      .filter(({ pointIds }) => open(pointIds).length === 0)
      .map(({ clusterId }) => clusterId),
    leftOpen: touched
      .filter(({ pointIds }) => open(pointIds).length > 0)
      .map(({ clusterId, pointIds }) => ({ clusterId, openIds: open(pointIds) })),
    shiftsTo: shiftRange(places.groups, set).map(roundedHead),
    oneMore: oneMoreOf(facts, set),
    lacks: set.flatMap((pointId) => {
      const lack = lackAt(pointId, set, waters)
      return lack === null ? [] : [{ pointId, lack }]
    }),
  }
}

const headOf = (clusters: readonly YardCluster[]) =>
  clusters.reduce((sum, { head }) => (head === null ? sum : plusInterval(sum, head)), NO_HEAD)

/** The water that would add most, among those that lack nothing: the one with the most drinks to win by either way. */
function oneMoreOf({ places, lacks }: YardFacts, set: readonly number[]): YardTryAnswer['oneMore'] {
  const [most] = places.waters
    .filter(({ pointId, use }) => use === 'seen' && !set.includes(pointId) && lacks.get(pointId) === null)
    .map(({ pointId }) => addedBy(places.groups, { set, pointId }))
    .filter(({ high }) => high > 0)
    .sort((a, b) => b.high - a.high || a.pointId - b.pointId)
  return most === undefined ? null : roundedHead(most)
}
