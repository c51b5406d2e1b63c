/** From what cameras saw and what the owner says to a muster and to the feed that is left. What can't be planned is told apart. */
import type { Load, Range, Ratings } from '../tally/load.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import type { NightDate } from '../words.ts'
import { type MusterPlan, type MusterPoint, type MusterStep, musterPlan } from './muster.ts'
import { type MusterFigures, nothingSaid, type PointFigures } from './muster-figures.ts'
import { type FeedLeft, feedLeft } from './no-rain.ts'
import { roundTripHours } from './time-off-water.ts'

export interface SeenAtPoint {
  readonly pointId: number
  readonly hasYard: boolean
  /** Null where the point was not watched. */
  readonly cattle: Load | null
  /** The largest count of cattle in one photo: so many were there at once. */
  readonly largestGroup: number
  /** Dry sheep equivalents of stock beside cattle, and of feral animals; null where the point was not watched. */
  readonly otherStockSheep: RateInterval | null
  readonly feralSheep: RateInterval | null
}

export type NotMustered = 'left out' | 'not watched' | 'no yard'
export type FeedNotTold = 'no feed given' | 'not watched'

export interface MusterAnswer {
  readonly plan: Omit<MusterPlan, 'steps'>
  readonly steps: readonly StepGiven[]
  readonly notMustered: ReadonlyArray<{ readonly pointId: number; readonly why: NotMustered }>
  readonly feed: readonly FeedLeft[]
  readonly feedNotTold: ReadonlyArray<{ readonly pointId: number; readonly why: FeedNotTold }>
}

/** A step with what it was worked out from. */
export interface StepGiven extends MusterStep {
  readonly head: RateInterval
  readonly fixedYard: boolean
  readonly km: number
  /** Of a truck: loaded, there, unloaded and back. */
  readonly hoursALoad: number
  /** Trucks go more than once here, and the loads a day that were given take them more than a day's hours. */
  readonly tooLongADay: boolean
  /** Its last load is longer off water than the most that was given. */
  readonly overMostHours: boolean
}

const HOURS_A_DAY = 24
/** Ten years: a muster that takes longer is a slip of the pen, and has no latest start. */
const MOST_DAYS = 3_660

/** `points` in run order; `today` is the first day without rain. @throws RangeError for figures that no door lets in */
export function musterFromFigures(
  points: readonly SeenAtPoint[],
  given: {
    readonly figures: MusterFigures
    readonly ratings: Pick<Ratings, 'sheep'>
    readonly today: NightDate
  },
): MusterAnswer {
  const { figures } = given
  const said = new Map(figures.points.map((one) => [one.pointId, one]))
  const all = points.map((seen): PointGiven => {
    const words = said.get(seen.pointId) ?? nothingSaid(seen.pointId)
    const head = words.head === null ? byCamera(seen) : byHand(words.head)
    return { seen, words, head }
  })
  const whyNot = new Map(all.map((one) => [one.seen.pointId, whyNotMustered(one, figures)]))
  const mustered = new Map(
    all.flatMap((one) =>
      whyNot.get(one.seen.pointId) === null ? [[one.seen.pointId, pointOf(one, figures)] as const] : [],
    ),
  )
  const { steps, ...plan } = musterPlan([...mustered.values()], figures)
  return {
    plan: plan.days.high > MOST_DAYS ? { ...plan, latestStart: null } : plan,
    steps: steps.map((step) => stepGiven(step, { point: mustered.get(step.pointId)!, figures })),
    notMustered: [...whyNot].flatMap(([pointId, why]) => (why === null ? [] : [{ pointId, why }])),
    ...feedOf(all, given),
  }
}

interface PointGiven {
  readonly seen: SeenAtPoint
  readonly words: PointFigures
  readonly head: RateInterval | null
}

/** What drinks there on an average day; the high end is no less than what was seen there at once. */
const byCamera = ({ cattle, largestGroup }: SeenAtPoint): RateInterval | null =>
  cattle && { ...cattle.head, high: Math.max(cattle.head.high, largestGroup) }

/** By hand there is no likeliest number: the middle stands for it. */
const byHand = ({ low, high }: Range): RateInterval => ({ low, rate: (low + high) / 2, high })

const hasFixedYard = ({ seen, words }: PointGiven) => words.fixedYard ?? seen.hasYard

function whyNotMustered(one: PointGiven, { means }: MusterFigures): NotMustered | null {
  if (one.words.leftOut) return 'left out'
  if (one.head === null) return 'not watched'
  return hasFixedYard(one) || means.portableYards > 0 ? null : 'no yard'
}

function pointOf(one: PointGiven, { haul }: MusterFigures): MusterPoint {
  const { km, musterHours, waterDays } = one.words
  return {
    pointId: one.seen.pointId,
    head: one.head!,
    fixedYard: hasFixedYard(one),
    haul: { ...haul, km: km ?? haul.km, musterHours: musterHours ?? haul.musterHours },
    waterDays,
  }
}

function stepGiven(
  step: MusterStep,
  { point, figures }: { readonly point: MusterPoint; readonly figures: MusterFigures },
): StepGiven {
  const hoursALoad = roundTripHours(point.haul)
  const most = figures.mostHoursOffWater
  const { trucks, loadsADay } = figures.means
  return {
    ...step,
    head: point.head,
    fixedYard: point.fixedYard,
    km: point.haul.km,
    hoursALoad,
    tooLongADay: step.loads.high > trucks && hoursALoad * loadsADay > HOURS_A_DAY,
    overMostHours: most !== null && step.offWater !== null && step.offWater.lastLoad > most,
  }
}

function feedOf(
  all: readonly PointGiven[],
  { figures, ratings, today }: Parameters<typeof musterFromFigures>[1],
): Pick<MusterAnswer, 'feed' | 'feedNotTold'> {
  const whyUntold = ({ seen, words, head }: PointGiven): FeedNotTold | null => {
    if (words.feedKg === null) return 'no feed given'
    return head === null || seen.feralSheep === null ? 'not watched' : null
  }
  const told = all.filter((one) => whyUntold(one) === null)
  return {
    feed: feedLeft(
      told.map(({ seen, words, head }) => ({
        pointId: seen.pointId,
        feedKg: words.feedKg!,
        stockSheep: plus(sheepOf(head!, ratings.sheep), seen.otherStockSheep ?? NONE),
        feralSheep: seen.feralSheep!,
      })),
      { ...figures.rain, today },
    ),
    feedNotTold: all.flatMap((one) => {
      const why = whyUntold(one)
      return why === null ? [] : [{ pointId: one.seen.pointId, why }]
    }),
  }
}

const NONE: RateInterval = { low: 0, rate: 0, high: 0 }

const sheepOf = (head: RateInterval, { low, high }: Range): RateInterval => ({
  low: head.low * low,
  rate: (head.rate * (low + high)) / 2,
  high: head.high * high,
})

export const plus = (a: RateInterval, b: RateInterval): RateInterval => ({
  low: a.low + b.low,
  rate: a.rate + b.rate,
  high: a.high + b.high,
})
