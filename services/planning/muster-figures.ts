/** The owner's own figures for a muster and for a time without rain, and what stands in for them until they are given. */
import type { Range } from '../tally/load.ts'
import type { NightDate } from '../words.ts'
import type { MusterMeans } from './muster-days.ts'
import type { Haul } from './time-off-water.ts'

/** What somebody says of one point; what is null is told by the cameras, by Set-up, or not known. */
export interface PointFigures {
  readonly pointId: number
  /** No muster here. */
  readonly leftOut: boolean
  /** Cattle there by hand, in place of the camera counts. */
  readonly head: Range | null
  /** A yard stands there for good; null: as Set-up says. */
  readonly fixedYard: boolean | null
  /** To the other end from here, kilometres, and hours of the muster: null, as for all points. */
  readonly km: number | null
  readonly musterHours: number | null
  /** Days until its water is gone; null: it lasts, or nobody knows. */
  readonly waterDays: number | null
  /** Dry matter that may still be eaten within a walk of the water, kilograms; null: nobody has rated it. */
  readonly feedKg: Range | null
  readonly note: string | null
}

export interface MusterFigures {
  /** Watched nights that the cattle expected are told from, up to the last night that is over. */
  readonly nights: number
  readonly means: MusterMeans
  /** The part of a point's cattle that a muster brings in, over 0 to 1. */
  readonly musteredShare: number
  readonly haul: Haul
  /** The most hours off water that the owner or the local code allows; null: none given. */
  readonly mostHoursOffWater: number | null
  /** Days are counted back from its evening; null: no such day. */
  readonly endBy: NightDate | null
  /** Points first, in this order; the others after them by their water. */
  readonly order: readonly number[]
  readonly points: readonly PointFigures[]
  readonly rain: {
    /** Days without rain to get through. */
    readonly days: number
    /** Dry matter that one dry sheep eats a day, kilograms. */
    readonly kgASheepDay: Range
  }
}

/**
 * Until the owner gives figures: numbers of the trade from memory, to be checked locally, and common practice without a
 * source. No number here is known of this station.
 */
export const USUAL_MUSTER: MusterFigures = {
  nights: 28,
  means: {
    portableYards: 1,
    headADeck: 25,
    decksATruck: 6,
    trucks: 1,
    loadsADay: 1,
    daysToSet: 2,
    daysToMuster: 1,
  },
  musteredShare: 0.9,
  haul: { musterHours: 6, nightHours: 12, loadHours: 2, unloadHours: 2, km: 300, kmAnHour: 60 },
  mostHoursOffWater: null,
  endBy: null,
  order: [],
  points: [],
  rain: { days: 42, kgASheepDay: { low: 0.8, high: 1.2 } },
}

export const nothingSaid = (pointId: number): PointFigures => ({
  pointId,
  leftOut: false,
  head: null,
  fixedYard: null,
  km: null,
  musterHours: null,
  waterDays: null,
  feedKg: null,
  note: null,
})
