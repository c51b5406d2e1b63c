/** A target list as it is kept: its lines with what was expected at each, so that nobody expects it afterwards. */
import type { Range } from '../tally/load.ts'
import type { Instant, NightDate } from '../words.ts'
import type { TargetLine } from './target-list.ts'

/** A point's expectations; the numbers are of the nights that the list rests on. */
export interface Expectation {
  /** Head a night, with limits; null: not watched. */
  readonly head: (Range & { readonly rate: number }) | null
  readonly nightsSeen: number
  readonly nightsWatched: number
  readonly largestGroup: number
  readonly lastSeenAt: Instant | null
  /** Station time, hours from 0 to 24; `to` may be before `from`: over midnight. Null: too few visits. */
  readonly bestHours: { readonly from: number; readonly to: number; readonly hours: number } | null
}

export interface KeptTargetList {
  /** Nights that it rests on, both included. */
  readonly nights: { readonly from: NightDate; readonly to: NightDate }
  readonly lines: ReadonlyArray<TargetLine & { readonly expected: Expectation }>
}
