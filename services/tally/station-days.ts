/** Days on the station's calendar, midnight to midnight: what was taken, and what was done with a trap, is told by day. */
import { toStationTime, wallToInstant } from '../station-time.ts'
import type { Instant, Zone } from '../words.ts'

/** `2026-11-24`: the date on the wall. */
export function stationDate(at: Instant, zone: Zone): string {
  return toStationTime(at, zone).slice(0, 10)
}

/** The first instant of a date, `2026-11-24`. */
export function dayBegins(date: string, zone: Zone): Instant {
  const [year, month, day] = date.split('-').map(Number)
  return wallToInstant({ year: year!, month: month!, day: day!, hour: 0, minute: 0, second: 0 }, zone).at
}

/** The first instant of the date after it. */
export function dayEnds(date: string, zone: Zone): Instant {
  return dayBegins(new Date(Date.parse(`${date}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10), zone)
}
