/** How many there were, from a catch per effort that falls: rounds of unequal effort. */
import { tailOf, USUAL_LEVEL } from '../tally/binomial-interval.ts'
import { studentQuantile } from '../tally/special-functions.ts'
import { commonRefusal, type Refused, type Round, refused } from './removal-conditions.ts'

export interface EffortEstimate {
  readonly kind: 'estimate'
  /** That were there before the first round; not whole. */
  readonly head: number
  readonly low: number
  readonly high: number
  readonly caught: number
  /** The part of those left that one unit of effort takes. */
  readonly perEffort: number
}

/** Two of the rounds' freedoms go into the line, and one that is left says nothing (common practice, no source). */
const LEAST_ROUNDS = 4

/**
 * Head before the first round by the line of catch per effort over what was caught before each round: where it meets 0
 * (Leslie & Davis 1939, Journal of Animal Ecology 8:94-113, doi:10.2307/1255). Limits after Fieller 1940 (Journal of the
 * Royal Statistical Society, Supplement 7:1-64, doi:10.2307/2983630, from memory), no lower than what was caught. Refused
 * under four rounds and where the line does not surely fall: it would meet 0 nowhere.
 */
export function catchPerEffort(rounds: readonly Round[], level = USUAL_LEVEL): EffortEstimate | Refused {
  const why = commonRefusal(rounds, LEAST_ROUNDS)
  if (why !== null) return refused(why)
  let caught = 0
  const points = rounds.map(({ head, effort }) => {
    const before = caught
    caught += head
    return { x: before, y: head / effort }
  })
  const n = points.length
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / n
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / n
  const spread = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0)
  const slope = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) / spread
  const rest = points.reduce((sum, { x, y }) => sum + (y - meanY - slope * (x - meanX)) ** 2, 0) / (n - 2)
  const t = studentQuantile(1 - tailOf(level), n - 2)
  const sure = slope ** 2 - (t ** 2 * rest) / spread
  // Not: sure <= 0, which a catch of the first round alone (no spread, no slope) would slip through.
  if (!(slope < 0 && sure > 0)) return refused('catch not falling')
  // The x at which (line)^2 = t^2 variance(line), as a quadratic in x - meanX.
  const half = -slope * meanY
  const root = Math.sqrt(Math.max(0, half ** 2 - sure * (meanY ** 2 - (t ** 2 * rest) / n)))
  return {
    kind: 'estimate',
    head: Math.max(caught, meanX - meanY / slope),
    low: Math.max(caught, meanX + (half - root) / sure),
    high: Math.max(caught, meanX + (half + root) / sure),
    caught,
    perEffort: -slope,
  }
}
