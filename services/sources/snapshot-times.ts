/** When a camera's address is asked next. */
import { type Place, sunElevation } from '../tally/sun.ts'
import type { Instant } from '../words.ts'

export interface SnapshotTimes {
  readonly everyMinutes: number
  /** While the sun is down; null: as by day. */
  readonly nightEveryMinutes: number | null
}

const MINUTE_MS = 60_000
const FIRST_WAIT_MINUTES = 1
const LONGEST_WAIT_MINUTES = 60
/** Cameras lock out who comes with a wrong password too often (common practice, no source). */
const REFUSED_FIRST_MINUTES = 10
const REFUSED_LONGEST_MINUTES = 360
/** Past it no wait grows: two to this power are longer than any. */
const MOST_DOUBLINGS = 20

/** A night that begins before the next turn by day is not slept through: the turn is at its beginning, to the minute. */
export function nextTurn(now: Instant, place: Place, times: SnapshotTimes): Instant {
  const { everyMinutes, nightEveryMinutes } = times
  if (nightEveryMinutes === null) return (now + everyMinutes * MINUTE_MS) as Instant
  const every = (at: number) => (sunElevation(at as Instant, place) < 0 ? nightEveryMinutes : everyMinutes)
  const longest = now + every(now) * MINUTE_MS
  for (let at = now + MINUTE_MS; at < longest; at += MINUTE_MS) {
    if (at >= now + every(at) * MINUTE_MS) return at as Instant
  }
  return longest as Instant
}

/**
 * Minutes until the next try after so many failures in a row (1 or more): doubled each time, up to an hour or the usual
 * time where that is longer.
 */
export function waitAfterFailure({
  failures,
  usualMinutes,
  isRefused,
}: {
  readonly failures: number
  readonly usualMinutes: number
  readonly isRefused: boolean
}): number {
  const doubled = 2 ** Math.min(MOST_DOUBLINGS, failures - 1)
  return isRefused
    ? Math.min(Math.max(REFUSED_LONGEST_MINUTES, usualMinutes), REFUSED_FIRST_MINUTES * doubled)
    : Math.min(Math.max(LONGEST_WAIT_MINUTES, usualMinutes), FIRST_WAIT_MINUTES * doubled)
}
