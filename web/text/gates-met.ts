/** What set gates meet, what shifts to other waters, and what one more would add, in words. */
import type { TrapYardsAnswer, YardTryAnswer } from '../../services/http/trap-yard-shapes.ts'
import { list, plural } from './counts.ts'
import { headNumber, headRange, near } from './head-range.ts'
import { nameOf, namesOf } from './trap-yards.ts'

export function meetWords(answer: TrapYardsAnswer): string {
  const meet = answer.meet!
  const points = [...meet.standingAt, ...meet.portableAt]
  return points.length === 0
    ? 'There is no yard to set: say in “Yards and weeks” how many portable ones there are.'
    : `Gates at ${namesOf(answer, points)} for ${plural(answer.means.nightsSet, 'night')}.`
}

export function howWords({ how, atLeastOfBest }: NonNullable<TrapYardsAnswer['meet']>): string {
  return how === 'every choice tried'
    ? 'Every choice of points was tried; with each drink taken to fall on a water by chance there is no better one.'
    : `Chosen step by step: at least ${Math.floor(atLeastOfBest * 100)} % of what the best choice could add.`
}

/** Both ways in which drinks may fall on waters. */
export function metLines(tried: Pick<YardTryAnswer, 'met' | 'metIfKeeping' | 'of'>): string[] {
  const { met, metIfKeeping, of } = tried
  return [
    `Comes to a set yard at least once: ${headRange(met)} of ${headRange(of)}.`,
    `${headNumber(metIfKeeping)} if each animal keeps to its own water, ${headNumber(met.rate)} if every drink falls on a water by chance.`,
  ]
}

/** Of a plan that leaves no water of its clusters open. */
export const wholeLine = ({ of }: Pick<YardTryAnswer, 'of'>): string =>
  `No water of the cluster is left open: all of its ${headRange(of)} come to a set yard, find water elsewhere, or go without.`

export function shiftLines(
  answer: TrapYardsAnswer,
  tried: Pick<YardTryAnswer, 'notMet' | 'shiftsTo'>,
): string[] {
  const to = tried.shiftsTo.filter(({ high }) => high >= LEAST_TOLD)
  if (to.length === 0) return ['Nothing is left to shift to other waters of the cluster.']
  return [
    `Not met, and free to shift to other waters: up to ${near(tried.notMet.high)} head. Up to ${list(
      to.map(({ pointId, high }) => `${near(high)} at ${nameOf(answer, pointId)}`),
    )}.`,
  ]
}
const LEAST_TOLD = 0.05

export function oneMoreLine(answer: TrapYardsAnswer, oneMore: YardTryAnswer['oneMore']): string | null {
  if (oneMore === null || oneMore.high < LEAST_TOLD) return null
  return `One more yard, at ${nameOf(answer, oneMore.pointId)}, would meet ${headRange(oneMore)} more.`
}
