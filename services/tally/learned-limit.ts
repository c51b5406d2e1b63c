/** A limit that a point whose stock behaves as it did passes only so often: the station's false alarms, shared out. */
import { rareLength } from './rare-length.ts'
import type { Lasted } from './survival.ts'

/** False alarms a week over the whole station, shared out evenly over its points. */
export const ALARMS_A_WEEK = 1
/** A point with fewer spells that ended borrows from the station (common practice, no source). */
export const LEAST_ENDED = 30

/** Spells of one kind in one season, and the watched point-weeks they come from. */
export interface Past {
  readonly spells: readonly Lasted[]
  readonly watchedWeeks: number
}

export interface LearnedLimit {
  readonly hours: number
  readonly learnedFrom: 'this point' | 'the station'
  /** Spells it was learned from that ended. */
  readonly ended: number
  readonly watchedWeeks: number
}

/**
 * The hours that the point's spells outlast, on the average, once in as many watched weeks as gives one alarm a week over
 * all `points`: learned from its own past, or from the whole station's until it has thirty that ended. 0: spells are so few
 * that any may give the alarm. Null where neither is enough. `tailFromHours`: see rare-length.ts.
 */
export function learnedLimit(
  { own, station, points }: { readonly own: Past; readonly station: Past; readonly points: number },
  { tailFromHours = 0 }: { readonly tailFromHours?: number } = {},
): LearnedLimit | null {
  if (!(points >= 1)) throw new RangeError(`alarms are shared among one point or more, and this is ${points}`)
  const share = { alarmsAWeek: ALARMS_A_WEEK / points, tailFromHours }
  return (
    learnFrom(own, { ...share, learnedFrom: 'this point' }) ??
    learnFrom(station, { ...share, learnedFrom: 'the station' })
  )
}

/** How many spells there are to one that outlasts the limit, at least 1: what the alarms of the station were shared out as. */
export function oneIn(
  { ended, watchedWeeks }: Pick<LearnedLimit, 'ended' | 'watchedWeeks'>,
  points: number,
): number {
  return Math.max(1, Math.round((ended / watchedWeeks / ALARMS_A_WEEK) * points))
}

function learnFrom(
  { spells, watchedWeeks }: Past,
  {
    learnedFrom,
    alarmsAWeek,
    tailFromHours,
  }: Pick<LearnedLimit, 'learnedFrom'> & { readonly alarmsAWeek: number; readonly tailFromHours: number },
): LearnedLimit | null {
  const ended = spells.filter((spell) => spell.ended).length
  if (ended < LEAST_ENDED || watchedWeeks <= 0) return null
  // Of so many a week, this part may outlast the limit.
  const rarity = alarmsAWeek / (ended / watchedWeeks)
  const hours = rarity >= 1 ? 0 : rareLength(spells, rarity, { tailFromHours })
  return hours === null ? null : { hours, learnedFrom, ended, watchedWeeks }
}
