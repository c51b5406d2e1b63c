/** Which nights are before a program and which after it: its own days are in neither. */
import { nightsOn, previousNight } from '../tally/nights.ts'
import type { NightDate } from '../words.ts'

/** Nights, both included. */
export interface Nights {
  readonly from: NightDate
  readonly to: NightDate
}

export interface WorkedSpells {
  /** The program's own days: its window, and the days of outcomes outside of it. */
  readonly own: Nights
  readonly before: Nights
  /** Null while no night after the program is over. */
  readonly after: Nights | null
}

/** Four weeks each way (common practice, no source): long enough for animals that come once in some days. */
export const USUAL_SPELL_NIGHTS = 28
/** A season and more each way. */
export const MOST_SPELL_NIGHTS = 182

/**
 * Equal spells unless their nights are given: both as long as there are nights after the program that are over, and no longer
 * than four weeks.
 */
export function workedSpells(given: {
  readonly program: Nights
  /** Station dates of what was taken. */
  readonly days: readonly string[]
  readonly lastNightOver: NightDate
  readonly nights?: { readonly before?: number | undefined; readonly after?: number | undefined } | undefined
}): WorkedSpells {
  const { program, days, lastNightOver, nights = {} } = given
  const dates = [...days].sort() as NightDate[]
  const [first, last] = [dates[0], dates.at(-1)]
  const own = {
    // What was taken on the morning of a day was taken in the night before it.
    from: first !== undefined && first < program.from ? previousNight(first) : program.from,
    to: last !== undefined && last > program.to ? last : program.to,
  }
  const begins = nightsOn(own.to, 1)
  const wanted = nightsOn(own.to, nights.after ?? USUAL_SPELL_NIGHTS)
  const [ends] = [wanted, lastNightOver].sort() as [NightDate, NightDate]
  const after = begins <= ends ? { from: begins, to: ends } : null
  const long = nights.before ?? (after === null ? USUAL_SPELL_NIGHTS : lengthOf(after))
  return { own, before: { from: nightsOn(own.from, -long), to: previousNight(own.from) }, after }
}

const DAY_MS = 86_400_000

export const lengthOf = ({ from, to }: Nights): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS) + 1

/** The same days of the year before; 29 February becomes the 1st of March. */
export const yearBefore = ({ from, to }: Nights): Nights => ({
  from: dateYearBefore(from),
  to: dateYearBefore(to),
})

function dateYearBefore(night: NightDate): NightDate {
  const date = new Date(`${night}T00:00:00Z`)
  date.setUTCFullYear(date.getUTCFullYear() - 1)
  return date.toISOString().slice(0, 10) as NightDate
}
