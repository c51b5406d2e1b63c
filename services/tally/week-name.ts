/** A week by its name, such as 2026-W46: that of its Monday, at whose noon it begins. */
import type { NightDate } from '../words.ts'
import { type WeekOfNights, weekOf } from './weeks.ts'

const DAY_MS = 86_400_000
const DAYS = 7
const THURSDAY = 3

/** The name of a week: the ISO year and number of its Monday (ISO 8601-1:2019, 3.1.1.23, from memory). */
export function weekName({ from }: WeekOfNights): string {
  // A week belongs to the year that its Thursday lies in.
  const thursday = Date.parse(`${from}T00:00:00Z`) + THURSDAY * DAY_MS
  const year = new Date(thursday).getUTCFullYear()
  const number = Math.floor((thursday - Date.UTC(year, 0, 1)) / (DAYS * DAY_MS)) + 1
  return `${year}-W${String(number).padStart(2, '0')}`
}

/** The week of that name; null where the year has none of that number, or it is no such name. */
export function weekNamed(name: string): WeekOfNights | null {
  const [, year, number] = /^(\d{4})-W(\d\d)$/.exec(name) ?? []
  if (year === undefined || number === undefined || Number(number) < 1) return null
  // 4 January is always in the first week.
  const first = weekOf(`${year}-01-04` as NightDate)
  const monday = Date.parse(`${first.from}T00:00:00Z`) + (Number(number) - 1) * DAYS * DAY_MS
  const week = weekOf(new Date(monday).toISOString().slice(0, 10) as NightDate)
  return weekName(week) === name ? week : null
}

/** The week so many weeks later (or earlier, when negative). */
export function weekAfter({ from }: WeekOfNights, by: number): WeekOfNights {
  const monday = Date.parse(`${from}T00:00:00Z`) + by * DAYS * DAY_MS
  return weekOf(new Date(monday).toISOString().slice(0, 10) as NightDate)
}
