/** From what was taken day by day to rounds of removal, as the estimates need them; or why there are none. */
import { type Fate, isGone } from '../tally/fates.ts'
import type { NightDate } from '../words.ts'
import type { Round } from './removal-conditions.ts'

export interface TakenHead {
  readonly pointId: number
  /** Station date. */
  readonly day: string
  readonly method: string
  /** Whole, at least 0. */
  readonly head: number
  readonly fate: Fate
  readonly effort: { readonly amount: number; readonly unit: string } | null
}

/** A day, or seven days from the first on. */
export const ROUND_LENGTHS = ['day', 'week'] as const
export type RoundLength = (typeof ROUND_LENGTHS)[number]

export interface DatedRound extends Round {
  /** Days, both included. */
  readonly from: NightDate
  readonly to: NightDate
}

export type NoRounds = 'nothing taken' | 'several methods' | 'effort not given' | 'efforts in several units'

export type RoundsTaken =
  | { readonly kind: 'rounds'; readonly rounds: readonly DatedRound[]; readonly unit: string | null }
  | { readonly kind: 'none'; readonly why: NoRounds }

/**
 * ONE species' rounds, in order. What was taken at one point on one day is one piece of work, whose effort counts once (the
 * largest that was given); efforts of several points add up. Two methods have two chances of catching, and no estimate holds
 * for both. `equalEffort`: somebody says that every round took the same effort, whatever was written down; the unit is null.
 */
export function roundsTaken(
  taken: readonly TakenHead[],
  { length, equalEffort }: { readonly length: RoundLength; readonly equalEffort: boolean },
): RoundsTaken {
  const none = (why: NoRounds): RoundsTaken => ({ kind: 'none', why })
  const first = taken.map(({ day }) => day).sort()[0]
  if (first === undefined) return none('nothing taken')
  if (distinct(taken.map(({ method }) => method.trim().toLowerCase())) > 1) return none('several methods')
  const works = groupsOf(taken, ({ day, pointId }) => `${day} ${pointId}`)
  const efforts = works.map(({ of }) => largestEffort(of))
  if (!equalEffort) {
    if (efforts.some((effort) => effort === null)) return none('effort not given')
    if (distinct(efforts.map((effort) => effort!.unit)) > 1) return none('efforts in several units')
  }
  const daysALong = length === 'day' ? 1 : 7
  const dated = works.map(({ of }, i) => ({
    number: Math.floor(daysFrom(first, of[0]!.day) / daysALong),
    head: headOf(of.filter(({ fate }) => isGone(fate))),
    cameBack: headOf(of.filter(({ fate }) => !isGone(fate))),
    effort: efforts[i]?.amount ?? 0,
  }))
  const rounds = groupsOf(dated, ({ number }) => String(number)).map(({ of }): DatedRound => {
    const from = dateAfter(first, of[0]!.number * daysALong)
    return {
      from,
      to: dateAfter(from, daysALong - 1),
      head: sum(of.map(({ head }) => head)),
      cameBack: sum(of.map(({ cameBack }) => cameBack)),
      effort: equalEffort ? 1 : sum(of.map(({ effort }) => effort)),
    }
  })
  return {
    kind: 'rounds',
    rounds: rounds.sort((a, b) => a.from.localeCompare(b.from)),
    unit: equalEffort ? null : efforts[0]!.unit,
  }
}

function largestEffort(of: readonly TakenHead[]): { amount: number; unit: string } | null {
  const given = of.flatMap(({ effort }) => effort ?? [])
  return given.sort((a, b) => b.amount - a.amount)[0] ?? null
}

const headOf = (taken: readonly TakenHead[]) => sum(taken.map(({ head }) => head))
const sum = (numbers: readonly number[]) => numbers.reduce((all, one) => all + one, 0)
const distinct = (words: readonly string[]) => new Set(words).size

function groupsOf<T>(items: readonly T[], key: (item: T) => string): Array<{ readonly of: readonly T[] }> {
  const groups = new Map<string, T[]>()
  for (const item of items) {
    const there = groups.get(key(item))
    if (there === undefined) groups.set(key(item), [item])
    else there.push(item)
  }
  return [...groups.values()].map((of) => ({ of }))
}

const DAY_MS = 86_400_000
const daysFrom = (first: string, day: string) => Math.round((Date.parse(day) - Date.parse(first)) / DAY_MS)
const dateAfter = (day: string, days: number) =>
  new Date(Date.parse(day) + days * DAY_MS).toISOString().slice(0, 10) as NightDate
