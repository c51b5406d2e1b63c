/** Weeks of nights: the week of a station begins at noon on Monday, with the night that is named Monday. */
import type { NightDate } from '../words.ts'

const DAY_MS = 86_400_000
const DAYS = 7
const MONDAY = 1

/** Seven nights, Monday's to Sunday's, both included. */
export interface WeekOfNights {
  readonly from: NightDate
  readonly to: NightDate
}

/** The week a night belongs to; it begins on Monday (ISO 8601-1:2019, 3.1.1.23, from memory). */
export function weekOf(night: NightDate): WeekOfNights {
  const day = Date.parse(`${night}T00:00:00Z`)
  const sinceMonday = (new Date(day).getUTCDay() - MONDAY + DAYS) % DAYS
  const monday = day - sinceMonday * DAY_MS
  return { from: dateOf(monday), to: dateOf(monday + (DAYS - 1) * DAY_MS) }
}

/** The seven nights before these. */
export function weekBefore({ from }: WeekOfNights): WeekOfNights {
  return weekOf(dateOf(Date.parse(`${from}T00:00:00Z`) - DAY_MS))
}

const dateOf = (ms: number) => new Date(ms).toISOString().slice(0, 10) as NightDate
