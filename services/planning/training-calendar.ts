/** Animals new to a yard walk in once they know it: weeks of open gates before a trap is set. (Common practice, no source.) */
import type { NightDate } from '../words.ts'

export interface TrainingWeeks {
  /** Gates tied open, whole weeks, at least 0. */
  readonly open: number
  /** After that one-way gates hang loosely and tracks are looked at, whole weeks, at least 0. */
  readonly checking: number
}

/** Common practice, no source; the owner changes them. */
export const USUAL_WEEKS: TrainingWeeks = { open: 3, checking: 1 }

export type TrainingStep = 'tie gates open' | 'look at tracks' | 'hang one-way gates' | 'set the trap'

export interface TrainingDay {
  readonly on: NightDate
  readonly step: TrainingStep
}

const DAY_MS = 86_400_000
const DAYS_A_WEEK = 7

/**
 * The days of a yard in order, from the night it was first used: gates open at once, tracks looked at each week, one-way
 * gates, then the trap set. Before its first use there is no calendar: a yard that nobody enters teaches nobody.
 * @throws RangeError for weeks that are not whole
 */
export function trainingCalendar(firstUsed: NightDate, { open, checking }: TrainingWeeks): TrainingDay[] {
  if (![open, checking].every((weeks) => Number.isInteger(weeks) && weeks >= 0))
    throw new RangeError('training goes by whole weeks')
  const on = (week: number) => daysAfter(firstUsed, week * DAYS_A_WEEK)
  const tracks = Array.from({ length: Math.max(0, open + checking - 1) }, (_, i) => i + 1)
  const days: TrainingDay[] = [
    ...(open > 0 ? [{ on: on(0), step: 'tie gates open' } as const] : []),
    ...tracks.map((week) => ({ on: on(week), step: 'look at tracks' }) as const),
    ...(checking > 0 ? [{ on: on(open), step: 'hang one-way gates' } as const] : []),
    { on: on(open + checking), step: 'set the trap' },
  ]
  return days.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
}

export type TrainingStage = 'not used yet' | 'gates open' | 'one-way gates' | 'ready to set'

/** Where a yard stands on a day. */
export function trainingStage(
  firstUsed: NightDate | null,
  { today, weeks }: { readonly today: NightDate; readonly weeks: TrainingWeeks },
): TrainingStage {
  if (firstUsed === null || today < firstUsed) return 'not used yet'
  if (today < daysAfter(firstUsed, weeks.open * DAYS_A_WEEK)) return 'gates open'
  return today < daysAfter(firstUsed, (weeks.open + weeks.checking) * DAYS_A_WEEK)
    ? 'one-way gates'
    : 'ready to set'
}

const daysAfter = (date: NightDate, days: number) =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10) as NightDate
