/** How long a species stayed away from a point, as far as the point was watched: what a limit is learned from. */
import type { Instant, NightDate, Spell } from '../words.ts'
import { unionOf } from './effort.ts'
import type { Visit } from './visits.ts'

const HOUR_MS = 3_600_000

/** From the end of one visit on. */
export interface Absence {
  readonly from: Instant
  /** Watched hours, over 0. */
  readonly hours: number
  /** True: they came in after so long. False: watching ended first, and nobody knows how much longer they stayed away. */
  readonly ended: boolean
}

/**
 * The absences of ONE species at ONE point. Each runs from a visit's end to the next visit, or to where watching broke off:
 * they may have come while nobody watched, so what was seen after that begins no absence before the next visit.
 * Both in any order.
 */
export function absencesOf(
  visits: readonly Pick<Visit, 'startedAt' | 'endedAt'>[],
  watched: readonly Spell[],
): Absence[] {
  const inOrder = [...visits].sort((a, b) => a.startedAt - b.startedAt)
  const spells = unionOf(watched)
  let at = 0
  return inOrder.flatMap(({ endedAt }, i) => {
    while (at < spells.length && spells[at]!.to <= endedAt) at++
    const spell = spells[at]
    if (spell === undefined || spell.from > endedAt) return []
    const next = inOrder[i + 1]?.startedAt ?? Number.POSITIVE_INFINITY
    const hours = (Math.min(next, spell.to) - endedAt) / HOUR_MS
    return hours > 0 ? [{ from: endedAt, hours, ended: next <= spell.to }] : []
  })
}

export type Season = 'hot' | 'cool'

/** Months of the hot half-year south of the equator (common practice, no source). */
const HOT_MONTHS = new Set([10, 11, 12, 1, 2, 3])

/** The half-year a night lies in; the other way round north of the equator. */
export function seasonOf(night: NightDate, latitude: number): Season {
  const isSouthernHot = HOT_MONTHS.has(Number(night.slice(5, 7)))
  return isSouthernHot === latitude <= 0 ? 'hot' : 'cool'
}
