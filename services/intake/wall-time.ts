/** Wall times as cameras write them in tags and names: digits that may or may not be a date. */
import type { WallTime } from '../station-time.ts'

/** No camera kept files before the clock that counts from here; an earlier date is not a date but a fault. */
const FIRST_YEAR = 1970
const LAST_YEAR = 9998

/**
 * The wall time that six numbers in writing (year, month, day, hour, minute, second) mean, or null where no
 * calendar has that day and no clock that time: `0000:00:00 00:00:00`, 29 February 2025, 24:00:00.
 */
export function readWallTime(parts: readonly string[]): WallTime | null {
  const numbers = parts.map(Number)
  const [year, month, day, hour, minute, second] = numbers
  if (year === undefined || month === undefined || day === undefined) return null
  if (hour === undefined || minute === undefined || second === undefined) return null
  if (!numbers.every(Number.isInteger)) return null
  if (year < FIRST_YEAR || year > LAST_YEAR || hour > 23 || minute > 59 || second > 59) return null
  // Date carries a day too many into the next month, so a date that comes back changed never was one.
  const date = new Date(Date.UTC(year, month - 1, day, hour, minute, second))
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) return null
  return { year, month, day, hour, minute, second }
}
