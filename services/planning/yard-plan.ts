/** A gate plan as the owner keeps it: where, when, and what was expected of it on the day. */
import type { RateInterval } from '../tally/poisson-interval.ts'
import type { NightDate, Species } from '../words.ts'
import type { HeadBetween } from './met-range.ts'

export interface KeptYardPlan {
  readonly name: string
  readonly species: Species
  /** Where gates are set: yards that stand and portable ones alike. */
  readonly pointIds: readonly number[]
  /** The first day on which the traps are set. */
  readonly fromNight: NightDate
  readonly nights: number
  /** Station hours by half hours; null: no hours were proposed or chosen. */
  readonly hours: { readonly from: number; readonly to: number } | null
  /** The part of cattle visits that was let fall in these hours, 0 to 1. */
  readonly cattleShare: number
  readonly note: string | null
}

/** What was expected when it was kept: later numbers stand beside it, not in its place. */
export interface YardPlanFigures {
  readonly met: RateInterval
  /** If every animal keeps to one water (met-range.ts). */
  readonly metIfKeeping: number
  readonly notMet: RateInterval
  /** Head of all clusters that the plan touches. */
  readonly of: RateInterval
  readonly closedWhole: boolean
  readonly shiftsTo: readonly HeadBetween[]
  readonly lookedAt: { readonly from: NightDate; readonly to: NightDate }
}
