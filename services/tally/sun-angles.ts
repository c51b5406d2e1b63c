/** Sunrise and sunset of days at a place, as clock angles: what visits are held to. */
import { toStationTime } from '../station-time.ts'
import type { Instant, NightDate, Zone } from '../words.ts'
import { clockAngle, heldToSun, meanSun, type SunAngles } from './clock-angle.ts'
import { nightSpell } from './nights.ts'
import { type Place, riseAndSet } from './sun.ts'

export interface SunOfDays {
  readonly mean: SunAngles
  /** The clock angle of an instant, held to the sun of its own day. */
  hold(at: Instant): number
}

/** Null where the sun does not rise or set on one of the days. An instant of another day is held to the middle sun. */
export function sunOfDays(
  dates: readonly NightDate[],
  { place, zone }: { readonly place: Place; readonly zone: Zone },
): SunOfDays | null {
  const days = new Map<string, SunAngles>()
  for (const date of dates) {
    const sun = riseAndSet(nightSpell(date, zone).from, place)
    if (sun === null) return null
    days.set(date, { sunrise: clockAngle(sun.sunrise, zone), sunset: clockAngle(sun.sunset, zone) })
  }
  if (days.size === 0) return null
  const mean = meanSun([...days.values()])
  return {
    mean,
    hold: (at) => {
      const angle = clockAngle(at, zone)
      return heldToSun(angle, days.get(toStationTime(at, zone).slice(0, 10)) ?? mean, mean)
    },
  }
}
