/** The demo's calendar: its days, counted back from now, each with its sun. */

import { toStationTime, wallToInstant } from '../station-time.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import type { Instant, NightDate, Spell } from '../words.ts'
import { demoHomestead, demoZone } from './station.ts'
import { sunriseAndSunset } from './sun.ts'

export const DEFAULT_NIGHTS = 56
const DAY_MS = 86_400_000

export interface DemoDay {
  readonly date: NightDate
  /** 0 is the day that `now` falls on. */
  readonly daysAgo: number
  readonly sunrise: Instant
  readonly sunset: Instant
}

export interface DemoPeriod {
  readonly now: Instant
  /** Nights counted back from the one that `now` falls in, that one included. */
  readonly nights: number
}

/** From the noon that begins the first night, to now. */
export function demoSpell({ now, nights }: DemoPeriod): Spell {
  return { from: nightSpell(nightsBack(now, nights - 1), demoZone).from, to: now }
}

/** The calendar days that the period touches, newest first. */
export function demoDays(period: DemoPeriod): readonly DemoDay[] {
  const { from } = demoSpell(period)
  const first = nightOf(from, demoZone)
  const last = toStationTime(period.now, demoZone).slice(0, 10) as NightDate
  return nightsBetween(first, last)
    .reverse()
    .map((date, daysAgo) => {
      const noon = clockOn(date, 12)
      return { date, daysAgo, ...sunriseAndSunset(noon, demoHomestead) }
    })
}

/** The instant at which the station's clocks show this hour (0 to 23) of the date, and so many minutes later. */
export function clockOn(date: string, hour: number, minutesLater = 0): Instant {
  const [year = 0, month = 0, day = 0] = date.split('-').map(Number)
  const { at } = wallToInstant({ year, month, day, hour, minute: 0, second: 0 }, demoZone)
  return (at + minutesLater * 60_000) as Instant
}

/** The night so many nights before the one that `now` falls in. */
export function nightsBack(now: Instant, count: number): NightDate {
  const tonight = Date.parse(`${nightOf(now, demoZone)}T00:00:00Z`)
  return new Date(tonight - count * DAY_MS).toISOString().slice(0, 10) as NightDate
}
