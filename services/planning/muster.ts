/** A muster: which points in which order, loads and days, when to start at the latest, and what is left behind at each step. */
import type { RateInterval } from '../tally/poisson-interval.ts'
import type { NightDate } from '../words.ts'
import { type MusterMeans, musterDays, type YardDays } from './muster-days.ts'
import { type Haul, type HoursOffWater, hoursOffWater } from './time-off-water.ts'

export interface MusterPoint {
  readonly pointId: number
  /** Cattle expected there, with limits. */
  readonly head: RateInterval
  readonly fixedYard: boolean
  readonly haul: Haul
  /** Days until its water is gone; null where it lasts, or nobody knows. */
  readonly waterDays: number | null
}

export interface MusterWishes {
  readonly means: MusterMeans
  /** The part of a point's cattle that a muster brings in, over 0 to 1. */
  readonly musteredShare: number
  /** Points first, in this order; the others after them by their water. */
  readonly order: readonly number[]
  /** The day by whose evening all is done; null: no such day. */
  readonly endBy: NightDate | null
}

export interface MusterStep {
  readonly pointId: number
  /** Sized for the high end of the cattle expected. */
  readonly days: YardDays
  readonly loads: { readonly low: number; readonly expected: number; readonly high: number }
  /** Null with no load. */
  readonly offWater: HoursOffWater | null
  /** Still on the station once this step is done: points to come, and what musters did not bring in. */
  readonly leftBehind: RateInterval
}

export interface MusterPlan {
  readonly steps: readonly MusterStep[]
  /** Whole days from the first to the last load. */
  readonly days: { readonly low: number; readonly expected: number; readonly high: number }
  /** First days that end in time: on the cattle expected, and at the high end. Null without a day to end by. */
  readonly latestStart: { readonly expected: NightDate; readonly high: NightDate } | null
  readonly head: RateInterval
}

const DAY_MS = 86_400_000
const ENDS = ['low', 'rate', 'high'] as const

/**
 * The plan for all points. Whose water goes first is mustered first, then where most may be. Loads carry all that may be
 * there, so a muster that brings in fewer ends early; what is left behind counts those it did not bring in.
 * @throws RangeError for a share outside 0 to 1, a point that is given twice, or what muster-days.ts refuses
 */
export function musterPlan(points: readonly MusterPoint[], wishes: MusterWishes): MusterPlan {
  const { means, musteredShare, endBy } = wishes
  if (!(musteredShare > 0 && musteredShare <= 1))
    throw new RangeError(`${musteredShare} is no share of the cattle`)
  if (new Set(points.map(({ pointId }) => pointId)).size < points.length)
    throw new RangeError('a point is mustered once')
  const inOrder = orderOf(points, wishes.order)
  const [low, expected, high] = ENDS.map((end) =>
    musterDays(
      inOrder.map(({ pointId, fixedYard, head }) => ({ pointId, fixedYard, head: head[end] })),
      means,
    ),
  )
  const head = sum(inOrder.map((point) => point.head))
  const days = {
    low: lastDay(low!),
    expected: lastDay(expected!),
    high: lastDay(high!),
  }
  return {
    steps: inOrder.map((point, i) => {
      const taken = sum(inOrder.slice(0, i + 1).map((one) => one.head))
      const left = (end: (typeof ENDS)[number]) => head[end] - musteredShare * taken[end]
      return {
        pointId: point.pointId,
        days: high![i]!,
        loads: { low: low![i]!.loads, expected: expected![i]!.loads, high: high![i]!.loads },
        offWater: hoursOffWater(high![i]!, point.haul, means),
        leftBehind: { low: left('low'), rate: left('rate'), high: left('high') },
      }
    }),
    days,
    latestStart:
      endBy === null ? null : { expected: startFor(endBy, days.expected), high: startFor(endBy, days.high) },
    head,
  }
}

function orderOf(points: readonly MusterPoint[], first: readonly number[]): MusterPoint[] {
  const chosen = first.flatMap((id) => points.filter(({ pointId }) => pointId === id))
  const water = ({ waterDays }: MusterPoint) => waterDays ?? Number.MAX_VALUE
  const others = points
    .filter((point) => !chosen.includes(point))
    .sort((a, b) => water(a) - water(b) || b.head.high - a.head.high || a.pointId - b.pointId)
  return [...chosen, ...others]
}

const sum = (heads: readonly RateInterval[]): RateInterval =>
  heads.reduce((a, b) => ({ low: a.low + b.low, rate: a.rate + b.rate, high: a.high + b.high }), {
    low: 0,
    rate: 0,
    high: 0,
  })

const lastDay = (yards: readonly YardDays[]) => Math.max(0, ...yards.map(({ trucks }) => trucks.to))

const startFor = (endBy: NightDate, days: number) =>
  new Date(Date.parse(`${endBy}T00:00:00Z`) - Math.max(0, days - 1) * DAY_MS)
    .toISOString()
    .slice(0, 10) as NightDate
