/** The sun over the demo station, good to a few minutes: enough to know which stills are infra-red. */
import type { Instant } from '../words.ts'

export interface Place {
  readonly lat: number
  readonly lon: number
}

/** Below this the demo's cameras take infra-red stills. */
const CAMERA_DUSK_DEGREES = -3
/** Upper limb on the horizon, with refraction. */
const RISE_AND_SET_DEGREES = -0.833
const HOUR_MS = 3_600_000
const radians = Math.PI / 180

/** Declination (radians) and equation of time (hours) by the series in NOAA's "General Solar Position Calculations" (after Spencer 1971). */
function solar(at: Instant): { declination: number; equationHours: number } {
  const date = new Date(at)
  const yearStart = Date.UTC(date.getUTCFullYear(), 0, 1)
  const g = (2 * Math.PI * ((at - yearStart) / (24 * HOUR_MS) - 0.5)) / 365
  const declination =
    0.006918 -
    0.399912 * Math.cos(g) +
    0.070257 * Math.sin(g) -
    0.006758 * Math.cos(2 * g) +
    0.000907 * Math.sin(2 * g) -
    0.002697 * Math.cos(3 * g) +
    0.00148 * Math.sin(3 * g)
  const equationMinutes =
    229.18 *
    (0.000075 +
      0.001868 * Math.cos(g) -
      0.032077 * Math.sin(g) -
      0.014615 * Math.cos(2 * g) -
      0.040849 * Math.sin(2 * g))
  return { declination, equationHours: equationMinutes / 60 }
}

/** Degrees of the sun's centre over the horizon, without refraction. */
export function sunElevationDegrees(at: Instant, { lat, lon }: Place): number {
  const { declination, equationHours } = solar(at)
  const solarHours = (at / HOUR_MS) % 24
  const hourAngle = (solarHours + equationHours + lon / 15 - 12) * 15 * radians
  const sine =
    Math.sin(lat * radians) * Math.sin(declination) +
    Math.cos(lat * radians) * Math.cos(declination) * Math.cos(hourAngle)
  return Math.asin(sine) / radians
}

/** Which kind of still a camera takes at this time. */
export function lightAt(at: Instant, place: Place): 'day' | 'night' {
  return sunElevationDegrees(at, place) > CAMERA_DUSK_DEGREES ? 'day' : 'night'
}

/**
 * Sunrise and sunset of the day whose local noon is near `noon`.
 * @throws RangeError where the sun does not rise or set on that day
 */
export function sunriseAndSunset(noon: Instant, { lat, lon }: Place): { sunrise: Instant; sunset: Instant } {
  const { declination, equationHours } = solar(noon)
  const cosine =
    (Math.sin(RISE_AND_SET_DEGREES * radians) - Math.sin(lat * radians) * Math.sin(declination)) /
    (Math.cos(lat * radians) * Math.cos(declination))
  if (Math.abs(cosine) > 1) throw new RangeError('no sunrise or sunset on this day')
  const halfDayHours = Math.acos(cosine) / radians / 15
  const dayOfNoon = Math.floor((noon + (lon / 15) * HOUR_MS) / (24 * HOUR_MS)) * 24
  const solarNoonHours = dayOfNoon + 12 - lon / 15 - equationHours
  return {
    sunrise: Math.round((solarNoonHours - halfDayHours) * HOUR_MS) as Instant,
    sunset: Math.round((solarNoonHours + halfDayHours) * HOUR_MS) as Instant,
  }
}
