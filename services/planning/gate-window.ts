/** The hours in which a set trap meets most of the target while few cattle come. */
import { FULL_CIRCLE, kernelConcentration, kernelSums } from '../tally/circular-density.ts'
import { type BootstrapInterval, nightBootstrap } from '../tally/night-bootstrap.ts'
import type { NightOfTwo } from '../tally/overlap.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type DayCurve, LEAST_VISITS, STEPS, STEPS_A_DAY, whenTheyCome } from '../tally/when-they-come.ts'
import { hoursOf, insideOf, isInside, mostWithin, type Window, windowOf } from './window-search.ts'

const HOURS_A_DAY = 24

export interface GateBound {
  /** The part of all cattle visits that may fall in the window, 0 to 1. */
  readonly cattleShare: number
  /** The window is no longer, 0.5 to 24: a set trap is looked after. */
  readonly mostHours: number
}

/** A species' visits in the window, of all its visits. */
export interface ShareInWindow {
  readonly share: number
  /** Null under 28 nights. */
  readonly interval: BootstrapInterval | null
  readonly visits: number
}

export interface GateWindow {
  readonly kind: 'window'
  /** Station hours, 0 to under 24 by half hours; over midnight where `to` is no later than `from`. */
  readonly from: number
  readonly to: number
  readonly hours: number
  readonly target: ShareInWindow
  /** Null: cattle came too seldom to know their hours, and the bound was not kept. */
  readonly cattle: ShareInWindow | null
  readonly cattleVisits: number
  /** Cattle that would meet the set trap on a night; null where their share or their number is not known. */
  readonly cattleHeadANight: RateInterval | null
  readonly nights: number
}

export type GateAnswer =
  | GateWindow
  /** Too few visits of the target to know its hours. */
  | { readonly kind: 'too few visits'; readonly visits: number; readonly least: number }
  /** No half hour keeps the bound. */
  | { readonly kind: 'no window' }

export interface GateGiven {
  /** Clock angles of the visits of each watched night: `one` the target's, `other` those of cattle. */
  readonly nights: readonly NightOfTwo[]
  /** Animal-visits of cattle a watched night, where known (tally/rates.ts). */
  readonly cattleANight: RateInterval | null
  readonly seed: number
  readonly draws?: number
}

/**
 * The one stretch of half hours that holds most of the target's activity with no more than the bound of that of cattle, both
 * from circular kernel densities (tally/when-they-come.ts); of equal ones the shorter, then the earlier. The intervals are
 * those of the chosen stretch, by bootstrap over nights (tally/night-bootstrap.ts), and reach over both the smoothed visits
 * and the visits as they fell: a kernel spreads visits over the edges, by which a small share looks larger than it is.
 */
export function gateWindow(given: GateGiven, bound: GateBound): GateAnswer {
  const curves = curvesOf(given)
  if (curves === null) return tooFew(given)
  const { target, cattle } = curves
  const window = mostWithin(partsOf(target), cattle && partsOf(cattle), bound)
  return window === null ? { kind: 'no window' } : toldOf(window, given)
}

/** The same of hours that a person chose, whole half hours from 0 to under 24: no bound is asked of them. */
export function chosenHours(
  given: GateGiven,
  { from, to }: Pick<GateWindow, 'from' | 'to'>,
): Exclude<GateAnswer, { kind: 'no window' }> {
  return curvesOf(given) === null ? tooFew(given) : toldOf(windowOf({ from, to }), given)
}

function curvesOf({ nights }: GateGiven) {
  const target = whenTheyCome(nights.flatMap(({ one }) => one))
  return target && { target, cattle: whenTheyCome(nights.flatMap(({ other }) => other)) }
}

const tooFew = ({ nights }: GateGiven) => ({
  kind: 'too few visits' as const,
  visits: nights.flatMap(({ one }) => one).length,
  least: LEAST_VISITS,
})

function toldOf(window: Window, given: GateGiven): GateWindow {
  const target = given.nights.map(({ one }) => one)
  const cattle = given.nights.map(({ other }) => other)
  const cattleVisits = cattle.flat().length
  const cattleShare = cattleVisits < LEAST_VISITS ? null : shareIn(window, cattle, given)
  return {
    kind: 'window',
    ...hoursOf(window),
    target: shareIn(window, target, given),
    cattle: cattleShare,
    cattleVisits,
    cattleHeadANight: cattleShare && given.cattleANight && headOf(cattleShare, given.cattleANight),
    nights: given.nights.length,
  }
}

/** Part of all visits in each ten minutes. */
const partsOf = ({ shareAnHour }: DayCurve) => shareAnHour.map((share) => share / (STEPS_A_DAY / HOURS_A_DAY))

function shareIn(
  window: Window,
  nights: ReadonlyArray<readonly number[]>,
  { seed, draws }: Pick<GateGiven, 'seed' | 'draws'>,
): ShareInWindow {
  // One kernel for all nights; what each night's visits add inside is then reckoned once.
  const concentration = kernelConcentration(nights.flat())
  const inside = insideOf(window).map((step) => STEPS[step]!)
  const smoothed = nights.map(
    (angles) =>
      kernelSums(angles, inside, concentration).reduce((sum, part) => sum + part, 0) *
      (FULL_CIRCLE / STEPS_A_DAY),
  )
  const counted = nights.map((angles) => angles.filter((angle) => isInside(angle, window)).length)
  const visits = nights.map(({ length }) => length)
  const limitsOf = (within: readonly number[]) =>
    nightBootstrap((times) => shareOf(within, visits, times), {
      nights: nights.length,
      seed,
      most: 1,
      ...(draws && { draws }),
    })
  const [ofSmoothed, ofCounted] = [limitsOf(smoothed), limitsOf(counted)]
  return {
    share: shareOf(smoothed, visits, new Float64Array(nights.length).fill(1))!,
    interval: ofSmoothed && ofCounted && widest(ofSmoothed, ofCounted),
    visits: nights.flat().length,
  }
}

/** When each night counts for so many `times`; null where no visit is left. */
function shareOf(within: readonly number[], visits: readonly number[], times: Float64Array): number | null {
  const sum = (of: readonly number[]) => of.reduce((total, count, night) => total + times[night]! * count, 0)
  const all = sum(visits)
  return all === 0 ? null : Math.min(1, sum(within) / all)
}

const widest = (a: BootstrapInterval, b: BootstrapInterval): BootstrapInterval => ({
  low: Math.min(a.low, b.low),
  high: Math.max(a.high, b.high),
})

/** From low times low to high times high, so on the safe side at both ends; null without the share's interval. */
function headOf({ share, interval }: ShareInWindow, cattle: RateInterval): RateInterval | null {
  if (interval === null) return null
  return { rate: share * cattle.rate, low: interval.low * cattle.low, high: interval.high * cattle.high }
}
