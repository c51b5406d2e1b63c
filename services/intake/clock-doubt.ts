/** Clocks that cannot be right: a still with one is kept and shown, but is in no visit until a person sets its time. */
import { CLOCK_DRIFT_TOLERANCE_MINUTES } from '../tally/placing.ts'
import type { Instant } from '../words.ts'

const TOLERANCE_MS = CLOCK_DRIFT_TOLERANCE_MINUTES * 60_000

/**
 * Dates a clock starts from when its battery went flat; 1980-01-01 is the first date a FAT card can hold. A
 * still within that day is doubted (common practice, no source).
 */
export const FACTORY_DATES: ReadonlySet<string> = new Set([
  '1970-01-01',
  '1980-01-01',
  '2000-01-01',
  '2005-01-01',
  '2008-01-01',
  '2010-01-01',
  '2012-01-01',
  '2015-01-01',
  '2016-01-01',
  '2017-01-01',
  '2018-01-01',
  '2019-01-01',
  '2020-01-01',
  '2021-01-01',
])

/** Before it no camera of this kind stood anywhere (common practice, no source): a clock that ran on from a factory date. */
export const FIRST_BELIEVED_DATE = '2000-01-02'
const FIRST_BELIEVED_AT = Date.parse(`${FIRST_BELIEVED_DATE}T00:00:00Z`)

export interface ClockInQuestion {
  /** After the known error was taken out. */
  readonly takenAt: Instant
  /** `YYYY-MM-DD` that the clock itself showed, in the zones it may keep; none where no clock but arrival spoke. */
  readonly saidDates: readonly string[]
  readonly arrivedAt: Instant
}

/**
 * What speaks against the clock of a still by itself, wherever its camera stood: in words for a person, the likeliest cause
 * first; null where nothing does. When the camera was put up and taken down is asked in tally/placing.ts.
 */
export function ownDoubt({ takenAt, saidDates, arrivedAt }: ClockInQuestion): string | null {
  if (saidDates.some((date) => FACTORY_DATES.has(date)))
    return 'the clock shows a factory date, as after a flat battery'
  if (takenAt < FIRST_BELIEVED_AT || saidDates.some((date) => date < FIRST_BELIEVED_DATE))
    return 'the clock shows a time before there were such cameras'
  if (takenAt > arrivedAt + TOLERANCE_MS) return 'the clock is in the future'
  return null
}
