/** Times of day as angles: midnight 0, noon pi; on the clock, or held to the sun. */
import { toStationTime } from '../station-time.ts'
import type { Instant, Zone } from '../words.ts'
import { FULL_CIRCLE } from './circular-density.ts'

const HOURS = 24
const MINUTES = 60
const SECONDS = 60

/** What the station's clock shows at an instant, as an angle from 0 up to a full circle. */
export function clockAngle(at: Instant, zone: Zone): number {
  const [hour, minute, second] = toStationTime(at, zone).slice(11, 19).split(':').map(Number)
  const hours = hour! + (minute! + second! / SECONDS) / MINUTES
  return (hours / HOURS) * FULL_CIRCLE
}

/** Clock angles of sunrise and sunset. */
export interface SunAngles {
  readonly sunrise: number
  readonly sunset: number
}

/** The middle sunrise and sunset of some days, as mean directions. */
export const meanSun = (days: readonly SunAngles[]): SunAngles => ({
  sunrise: meanAngle(days.map(({ sunrise }) => sunrise)),
  sunset: meanAngle(days.map(({ sunset }) => sunset)),
})

/**
 * A clock angle held to the sun: time between that day's sunrise and sunset is stretched to lie between `mean`'s, and so is
 * the night; clocks that change and days that draw in then leave no trace. Average anchoring of Nouvellet, Rasmussen,
 * Macdonald & Courchamp 2012, Journal of Zoology 286:179-184, doi:10.1111/j.1469-7998.2011.00864.x.
 */
export function heldToSun(angle: number, today: SunAngles, mean: SunAngles): number {
  const day = turn(today.sunset - today.sunrise)
  const meanDay = turn(mean.sunset - mean.sunrise)
  const sinceSunrise = turn(angle - today.sunrise)
  return sinceSunrise <= day
    ? turn(mean.sunrise + (sinceSunrise / day) * meanDay)
    : turn(mean.sunset + ((sinceSunrise - day) / (FULL_CIRCLE - day)) * (FULL_CIRCLE - meanDay))
}

function meanAngle(angles: readonly number[]): number {
  const part = (of: (x: number) => number) => angles.reduce((sum, angle) => sum + of(angle), 0)
  return turn(Math.atan2(part(Math.sin), part(Math.cos)))
}

/** From 0 up to a full circle. */
const turn = (angle: number) => ((angle % FULL_CIRCLE) + FULL_CIRCLE) % FULL_CIRCLE
