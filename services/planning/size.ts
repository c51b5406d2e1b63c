/** What a set-up needs, from how much comes in and from rates that were measured: arithmetic, and no rate of its own. */

export interface Load {
  readonly cameras: number
  /** Of one camera, on a day of much coming and going. */
  readonly photosACameraDay: number
  /** Mean size of one photo as it comes. */
  readonly photoBytes: number
  /** Part of a day's photos that come in its busiest hour, 0 to 1: 1/24 where they come evenly. */
  readonly busiestHourShare: number
}

export interface Rates {
  /** Photos a second that one worker looks at, as `npm run bench -- pipeline` prints for such a machine. */
  readonly workerPerSecond: number
}

export interface Size {
  readonly photosADay: number
  readonly busiestHourPerSecond: number
  /** So many that the busiest hour is looked at as it comes, none less than one. */
  readonly workers: number
  /** Hours in which these workers look at a whole day's photos that come at once: a card, or a link that was away. */
  readonly hoursForADayAtOnce: number
  readonly photoBytesADay: number
  readonly photoBytesAYear: number
}

const DAYS_A_YEAR = 365.25
const SECONDS_AN_HOUR = 3_600
/** Above this part of what workers can do, photos that come in bunches wait long (queueing theory, M/M/c; from memory). */
export const FULLEST = 0.7

export function sizeOf(load: Load, { workerPerSecond }: Rates): Size {
  const photosADay = load.cameras * load.photosACameraDay
  const busiestHourPerSecond = (photosADay * load.busiestHourShare) / SECONDS_AN_HOUR
  const workers = Math.max(1, Math.ceil(busiestHourPerSecond / (workerPerSecond * FULLEST)))
  return {
    photosADay,
    busiestHourPerSecond,
    workers,
    hoursForADayAtOnce: photosADay / (workers * workerPerSecond) / SECONDS_AN_HOUR,
    photoBytesADay: photosADay * load.photoBytes,
    photoBytesAYear: photosADay * load.photoBytes * DAYS_A_YEAR,
  }
}
