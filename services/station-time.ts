/** The edge of time: between instants and the station's wall clock. Inside, everything is an instant. */
import { Temporal } from 'temporal-polyfill'
import { Refusal } from './refusal.ts'
import type { Instant, Zone } from './words.ts'

/** What a clock on a wall shows: `month` 1 to 12, `hour` 0 to 23, `second` 0 to 59. */
export interface WallTime {
  readonly year: number
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
  readonly second: number
}

/** `earlier of two`: the hour was lived twice. `skipped`: no clock ever showed it. */
export type WallMeaning = 'only' | 'earlier of two' | 'skipped'

/**
 * An instant as ISO 8601 with the station's offset: `2026-11-25T06:10:00+10:30` (RFC 3339).
 * Whole seconds unless the instant has milliseconds.
 */
export function toStationTime(at: Instant, zone: Zone): string {
  return Temporal.Instant.fromEpochMilliseconds(at).toString({ timeZone: zone })
}

/**
 * The instant an ISO 8601 time with an offset or Z names; anything finer than a millisecond is cut off.
 * @throws Refusal when it is no such time: without an offset nobody can say which instant is meant.
 */
export function parseInstant(iso: string): Instant {
  try {
    return Temporal.Instant.from(iso).epochMilliseconds as Instant
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause
    throw new Refusal({
      kind: 'bad input',
      detail: `Expected a time with its offset from UTC, got "${iso.slice(0, 60)}".`,
      remedy: 'Write it as 2026-11-25T06:10:00+10:30, or in UTC with a Z at the end.',
    })
  }
}

/**
 * The instant a clock without an offset meant. An hour lived twice (clocks put back) is taken as the
 * earlier; an hour that was skipped (clocks put forward) moves forward by the length of the gap, as a
 * clock that was not put forward would have it (RFC 5545, section 3.3.5).
 * @throws RangeError when the calendar has no such day or the day no such time.
 */
export function wallToInstant(wall: WallTime, zone: Zone): { at: Instant; meaning: WallMeaning } {
  const plain = Temporal.PlainDateTime.from({ ...wall }, { overflow: 'reject' })
  const earlier = plain.toZonedDateTime(zone, { disambiguation: 'earlier' })
  const later = plain.toZonedDateTime(zone, { disambiguation: 'later' })
  if (earlier.epochMilliseconds === later.epochMilliseconds) {
    return { at: earlier.epochMilliseconds as Instant, meaning: 'only' }
  }
  // In a gap neither reading shows the wall time asked for; in a repeated hour both do.
  const repeated = earlier.toPlainDateTime().equals(plain)
  return repeated
    ? { at: earlier.epochMilliseconds as Instant, meaning: 'earlier of two' }
    : { at: later.epochMilliseconds as Instant, meaning: 'skipped' }
}
