/** Where a still belongs: its time, its point and whether its clock is in doubt, from the time it came with. */
import type { Instant } from '../words.ts'

/** A camera's clock drifts a few seconds a day, so minutes between two visits of its owner (common practice, no source). */
export const CLOCK_DRIFT_TOLERANCE_MINUTES = 15
const TOLERANCE_MS = CLOCK_DRIFT_TOLERANCE_MINUTES * 60_000

/** Doubts that go away where the camera's times are put right. */
export const BEFORE_PUT_UP = 'before the camera was put up'
export const AFTER_TAKEN_DOWN = 'after the camera was taken down'

/** A spell in which a camera stood at a point; null: not known, or not over. */
export interface TimeAtPoint {
  readonly pointId: number
  readonly from: Instant | null
  readonly to: Instant | null
}

/** A run of stills that a person moved in time. */
export interface TimeShift {
  /** By the time they came with, both included. */
  readonly fromSaid: Instant
  readonly toSaid: Instant
  /** Stills with a later id came in after it, and are not meant. */
  readonly lastStillId: number
  readonly seconds: number
}

export interface StillToPlace {
  readonly id: number
  /** The time it came with. */
  readonly saidAt: Instant
  /** What speaks against its clock by itself, or null. */
  readonly ownDoubt: string | null
}

export interface Placed {
  readonly takenAt: Instant
  readonly pointId: number
  readonly clockDoubt: string | null
}

export interface CameraTimes {
  /** Oldest first; they don't overlap. */
  readonly times: readonly TimeAtPoint[]
  /** Those that stand, in any order. */
  readonly shifts: readonly TimeShift[]
  /** Where a still belongs that was taken in none of its times: cards are changed on the day that cameras are moved. */
  readonly presentPointId: number
}

/**
 * The place of a still. Shifts add up; a shifted still's own clock is in doubt no more, because a person said when it was
 * taken. The same still under the same times and shifts always has the same place, so an undone shift leaves no trace.
 */
export function placed(still: StillToPlace, { times, shifts, presentPointId }: CameraTimes): Placed {
  const own = shifts.filter((shift) => covers(shift, still))
  const takenAt = (still.saidAt +
    own.reduce((ms, { seconds }) => ms + Math.round(seconds * 1000), 0)) as Instant
  return {
    takenAt,
    pointId: pointAt(times, takenAt) ?? presentPointId,
    clockDoubt: (own.length > 0 ? null : still.ownDoubt) ?? placeDoubt(takenAt, times),
  }
}

function covers(shift: TimeShift, { id, saidAt }: StillToPlace): boolean {
  return id <= shift.lastStillId && saidAt >= shift.fromSaid && saidAt <= shift.toSaid
}

/** The point of the last of the times that an instant lies in; null where it lies in none. */
export function pointAt(times: readonly TimeAtPoint[], at: Instant): number | null {
  const time = times.findLast(({ from, to }) => (from === null || from <= at) && (to === null || at < to))
  return time?.pointId ?? null
}

/**
 * Why an instant can't be right for a camera that stood at these times, in words for a person. Between two of them it may
 * be: only before them all, or after the last, the camera stood nowhere.
 */
export function placeDoubt(
  at: Instant,
  times: ReadonlyArray<Pick<TimeAtPoint, 'from' | 'to'>>,
): string | null {
  const [first] = times
  const last = times.at(-1)
  if (first === undefined || last === undefined) return null
  if (first.from !== null && at < first.from - TOLERANCE_MS) return BEFORE_PUT_UP
  if (last.to !== null && at > last.to + TOLERANCE_MS) return AFTER_TAKEN_DOWN
  return null
}
