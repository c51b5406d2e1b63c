/** Cattle that are not in to water, or will not leave it, in words: how an alarm was reached and what explains it. */
import type { CattleAnswer } from '../../services/http/cattle-shapes.ts'
import type { PointKind } from '../../services/words.ts'
import { plural } from './counts.ts'
import { clockOf, dayName, lengthOf } from './times.ts'

export const cattleWords = {
  normal: 'That is normal here',
  normalSaid: 'Held as normal here',
  normalHint: 'Holds the alarm a day longer than they have been away now, for 30 days.',
  hangingHint:
    'A mob that will not leave a trough in the heat can mean that no water comes. Go and look; a photo is no proof of water.',
} as const

type Limit = NonNullable<CattleAnswer['limit']>

/** `31 h`, `4 days`: up to two days in hours, as alarms are. */
export function hoursWords(hours: number): string {
  return `${Math.round(hours)} h`
}

/** `Cattle away 4 days: rain here on Tue 24 Nov` */
export function awayWords({ lastSeenAt, because }: CattleAnswer, now: string): string {
  const away = lastSeenAt === null ? 'Cattle away' : `Cattle away ${lengthOf(lastSeenAt, now)}`
  return because === null ? away : `${away}: ${because.kind} on ${dayName(because.at)}`
}

/** How the alarm was reached; null where there is none. */
export function alarmWords(
  cattle: CattleAnswer,
  { kind, now }: { kind: PointKind; now: string },
): string | null {
  const { state, lastSeenAt, limit, because } = cattle
  if (state !== 'not in' || lastSeenAt === null || limit === null) return null
  const trap = because?.kind === 'trap set' ? ' The trap is set here, which may be why.' : ''
  return `Away ${lengthOf(lastSeenAt, now)}; ${limitWords(limit, kind)}${trap}`
}

/** `at this bore in the hot season all but 1 in 40 absences ended within 26 h; learned from 84 absences.` */
export function limitWords(limit: Limit, kind: PointKind): string {
  return [learnedWords(limit, kind), heldWords(limit), normalWords(limit)].filter(Boolean).join(' ')
}

function learnedWords({ learned, season, longestHours }: Limit, kind: PointKind): string {
  if (learned === null)
    return `too little is known of this ${kind} to learn from, so your longest allowed, ${hoursWords(longestHours)}, holds.`
  const where = learned.from === 'this point' ? `at this ${kind}` : 'over the whole station'
  const why = learned.from === 'this point' ? '' : `, as this ${kind} has too few of its own`
  return `${where} in the ${season} season all but 1 in ${learned.oneIn} absences ended within ${hoursWords(learned.hours)}; learned from ${plural(learned.absences, 'absence')}${why}.`
}

function heldWords({ heldAt, longestHours }: Limit): string {
  if (heldAt === 'a day') return 'Nothing under a day is news.'
  return heldAt === null ? '' : `Your longest allowed, ${hoursWords(longestHours)}, is shorter and holds.`
}

function normalWords({ normalUntil, hours }: Limit): string {
  return normalUntil === null
    ? ''
    : `Said to be normal here: ${hoursWords(hours)} holds until ${dayName(normalUntil)}.`
}

/** `Hanging on water: at least 6 for 3 h in the heat from 11:20`; null: not. */
export function hangingWords({ hanging }: CattleAnswer): string | null {
  if (hanging === null) return null
  const hours = Math.round(hanging.hours * 10) / 10
  return `Hanging on water: at least ${hanging.head} for ${hours} h in the heat from ${clockOf(hanging.from)}`
}
