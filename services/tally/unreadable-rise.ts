/** Do more of a camera's files come unreadable than used to? */
import { compareRates } from './change.ts'

/** A camera is asked about daily: at this level a station of ten has a false alarm in a hundred days. */
const ALARM_P = 0.001
export const LEAST_UNREADABLE = 3
/** Where there is no past to compare with, so large a part is an alarm by itself. */
const LARGE_SHARE = 0.5

export interface FilesThatCame {
  readonly unreadable: number
  /** The unreadable ones included. */
  readonly files: number
}

/**
 * Whether unreadable files rose against the camera's own past beyond chance: the exact test of two Poisson rates given their
 * sum (change.ts), with the files that came as exposure. Under three unreadable files nothing is said.
 */
export function unreadableRise(now: FilesThatCame, past: FilesThatCame): boolean {
  if (now.unreadable < LEAST_UNREADABLE) return false
  if (past.files === 0) return now.unreadable >= LARGE_SHARE * now.files
  if (now.unreadable / now.files <= past.unreadable / past.files) return false
  const { p } = compareRates(
    { visits: now.unreadable, watchedNights: now.files },
    { visits: past.unreadable, watchedNights: past.files },
  )
  return p < ALARM_P
}
