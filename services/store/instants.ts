/** The ledger keeps instants as `timestamptz`; everything else speaks milliseconds. */
import type { Instant } from '../words.ts'

export function toDate(at: Instant): Date {
  return new Date(at)
}

export function toInstant(date: Date): Instant {
  return date.getTime() as Instant
}

/** For lists of instants within a statement. */
export function toIso(at: number): string {
  return new Date(at).toISOString()
}
