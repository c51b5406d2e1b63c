/** What a week's change at each point amounts to, for ONE species: in words that a manager can act on. */
import { USUAL_LEVEL } from './binomial-interval.ts'
import { compareRates, type RateChange, type SpellCount } from './change.ts'
import { ableToShow, holm } from './several-tests.ts'

export type ChangeVerdict = 'more' | 'fewer' | 'worth a look' | 'no clear change' | 'too few nights to tell'

export interface PointChange {
  readonly verdict: ChangeVerdict
  /** Null where one of the spells was not watched. */
  readonly change: RateChange | null
  /** p corrected for the number of points; null where the point could not show a change, or was not compared. */
  readonly correctedP: number | null
}

/** Watched nights' worth that each spell must have (common practice, no source). */
export const LEAST_WATCHED_NIGHTS = 3

/**
 * A verdict for each point, in the order given.
 * - *more*, *fewer*: the corrected p is under 1 - level (Holm over the points that can show a change at all).
 * - *worth a look*: the interval of its ratio leaves out 1, but among so many points one may do so by chance.
 * - *too few nights to tell*: fewer than three watched nights in a spell; or a few visits that could not show a change
 *   however they fell; or `dispersion` null, no factor known yet. Nothing in both spells is no clear change.
 */
export function verdictsOf(
  points: ReadonlyArray<{ readonly now: SpellCount; readonly before: SpellCount }>,
  dispersion: number | null,
  level = USUAL_LEVEL,
): PointChange[] {
  const alpha = 1 - level
  const changes = points.map(({ now, before }) =>
    now.watchedNights > 0 && before.watchedNights > 0
      ? compareRates(now, before, { dispersion: dispersion ?? 1, level })
      : null,
  )
  const compared = points.map(
    ({ now, before }) =>
      dispersion !== null && Math.min(now.watchedNights, before.watchedNights) >= LEAST_WATCHED_NIGHTS,
  )
  const able = ableToShow(
    changes.map((change, i) => (compared[i] && change !== null ? change.leastP : 1)),
    alpha,
  )
  const family = able.flatMap((is, i) => (is ? [i] : []))
  const corrected = new Map(
    holm(family.map((i) => changes[i]!.p)).map((p, rank) => [family[rank]!, p] as const),
  )
  return changes.map((change, i) => {
    const correctedP = corrected.get(i) ?? null
    if (change === null || !compared[i]) return { verdict: 'too few nights to tell', change, correctedP }
    return { verdict: verdictOf(points[i]!, { change, correctedP, alpha }), change, correctedP }
  })
}

function verdictOf(
  { now, before }: { readonly now: SpellCount; readonly before: SpellCount },
  { change, correctedP, alpha }: { change: RateChange; correctedP: number | null; alpha: number },
): ChangeVerdict {
  if (now.visits + before.visits === 0) return 'no clear change'
  if (change.leastP > alpha) return 'too few nights to tell'
  if (correctedP !== null && correctedP < alpha)
    return now.visits / now.watchedNights > before.visits / before.watchedNights ? 'more' : 'fewer'
  return change.p < alpha ? 'worth a look' : 'no clear change'
}
