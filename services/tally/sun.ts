/** The sun at a place, by a library: the only file that asks it for the sun. */
import { getPosition, getTimes } from 'suncalc'
import type { Instant } from '../words.ts'

export interface Place {
  readonly lat: number
  readonly lon: number
}

/**
 * Degrees of the sun's centre over the horizon, lifted by the refraction of a usual air where it is above it
 * (Meeus 1998, Astronomical Algorithms, formula 16.4, as the library says; from memory).
 */
export function sunElevation(at: Instant, { lat, lon }: Place): number {
  return getPosition(new Date(at), lat, lon).altitude
}

/**
 * Sunrise and sunset of the day whose noon is given: the sun's upper limb at the horizon, with refraction (its centre
 * 0.833 degrees under it). Null where it does not rise or set that day.
 */
export function riseAndSet(
  noon: Instant,
  { lat, lon }: Place,
): { readonly sunrise: Instant; readonly sunset: Instant } | null {
  const { sunrise, sunset } = getTimes(new Date(noon), lat, lon)
  if (!sunrise || !sunset) return null
  return { sunrise: sunrise.getTime() as Instant, sunset: sunset.getTime() as Instant }
}
