/** Which stretch of a notebook a week's counts are held against. */
import type { NightDate } from '../words.ts'

/** Both nights included. */
export interface NightSpan {
  readonly from: NightDate
  readonly to: NightDate
}

export interface NotebookSpan extends NightSpan {
  /** The same weeks so many years before; null: another season, the last that the notebook holds. */
  readonly yearsBack: number | null
}

const DAY_MS = 86_400_000
/** Whole weeks, so that weekdays fall together: a year and a day or two less. */
const YEAR_DAYS = 52 * 7
const MOST_YEARS = 10

/**
 * The same weeks of the latest earlier year of which the notebook holds a night; where there is none, as many nights up to
 * the last in the notebook before these. Null where it holds none before them.
 */
export function notebookSpan(nights: readonly NightDate[], cameras: NightSpan): NotebookSpan | null {
  for (let yearsBack = 1; yearsBack <= MOST_YEARS; yearsBack += 1) {
    const span = {
      from: daysAfter(cameras.from, -YEAR_DAYS * yearsBack),
      to: daysAfter(cameras.to, -YEAR_DAYS * yearsBack),
    }
    if (nights.some((night) => night >= span.from && night <= span.to)) return { ...span, yearsBack }
  }
  const last = nights
    .filter((night) => night < cameras.from)
    .sort()
    .at(-1)
  if (last === undefined) return null
  const days = (Date.parse(cameras.to) - Date.parse(cameras.from)) / DAY_MS
  return { from: daysAfter(last, -days), to: last, yearsBack: null }
}

function daysAfter(night: NightDate, days: number): NightDate {
  return new Date(Date.parse(`${night}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10) as NightDate
}
