/** The days of a gate plan: when each trap is set and shut down, and the least visits that this asks of people. */
import { wallToInstant } from '../station-time.ts'
import { nextNight, nightsOn } from '../tally/nights.ts'
import type { Instant, NightDate, Zone } from '../words.ts'

const HOURS_A_DAY = 24
const MINUTES_AN_HOUR = 60

export interface GateHours {
  /** Station hours by half hours, 0 to under 24; over midnight where `to` is no later than `from`. */
  readonly from: number
  readonly to: number
}

export interface SetDay {
  /** The date on which the trap is set. */
  readonly on: NightDate
  readonly setAt: Instant
  readonly shutAt: Instant
  /** The least visits to each trap from setting it to the next setting: one, as a set trap is visited at least daily. */
  readonly visits: number
}

/** `days` of them from `first` on. @throws RangeError for days that are not whole and over 0 */
export function setDays(
  hours: GateHours,
  { first, days, zone }: { readonly first: NightDate; readonly days: number; readonly zone: Zone },
): SetDay[] {
  if (!(Number.isInteger(days) && days > 0))
    throw new RangeError(`days are a whole number, and this is ${days}`)
  return Array.from({ length: days }, (_, i) => nightsOn(first, i)).map((on) => ({
    on,
    setAt: clockOn(on, hours.from, zone),
    shutAt: clockOn(hours.to <= hours.from ? nextNight(on) : on, hours.to, zone),
    visits: 1,
  }))
}

function clockOn(date: NightDate, hour: number, zone: Zone): Instant {
  const [year, month, day] = date.split('-').map(Number)
  const wall = {
    year: year!,
    month: month!,
    day: day!,
    hour: Math.floor(hour) % HOURS_A_DAY,
    minute: Math.round((hour % 1) * MINUTES_AN_HOUR),
    second: 0,
  }
  return wallToInstant(wall, zone).at
}
