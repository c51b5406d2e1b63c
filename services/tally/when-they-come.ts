/** When in the day a species comes to water, as a curve over the clock. */
import { FULL_CIRCLE, kernelConcentration, kernelSums } from './circular-density.ts'

/** Fewer visits show no hours (common practice, no source). */
export const LEAST_VISITS = 10
/** The curve is told at each ten minutes. */
export const STEPS_A_DAY = 144
const HOURS_A_DAY = 24

/** The clock angle of each ten minutes, from midnight. */
export const STEPS: readonly number[] = Array.from(
  { length: STEPS_A_DAY },
  (_, i) => (i / STEPS_A_DAY) * FULL_CIRCLE,
)

export interface DayCurve {
  /** Part of all visits in an hour like this one, at each ten minutes from midnight; 24 hours of it make 1. */
  readonly shareAnHour: readonly number[]
  readonly visits: number
}

/**
 * The curve from the clock angles at which visits began (clock-angle.ts): circular kernel density with a von Mises kernel
 * (circular-density.ts). Null under 10 visits.
 */
export function whenTheyCome(angles: readonly number[]): DayCurve | null {
  if (angles.length < LEAST_VISITS) return null
  const sums = kernelSums(angles, STEPS, kernelConcentration(angles))
  const shareAnHour = Array.from(sums, (sum) => (sum / angles.length) * (FULL_CIRCLE / HOURS_A_DAY))
  return { shareAnHour, visits: angles.length }
}

/** The part of all visits that falls in `hours` (0 to 24, over midnight where `to` is less than `from`), 0 to 1. */
export function shareWithin({ shareAnHour }: DayCurve, { from, to }: { from: number; to: number }): number {
  const inside = (hour: number) => (from <= to ? hour >= from && hour < to : hour >= from || hour < to)
  return shareAnHour.reduce(
    (sum, share, step) =>
      sum + (inside((step * HOURS_A_DAY) / STEPS_A_DAY) ? share : 0) / (STEPS_A_DAY / HOURS_A_DAY),
    0,
  )
}
