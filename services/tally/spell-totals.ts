/** What some nights at one point come to for one species: what every rate is made of. A week is the sum of its nights. */
import type { NightDate } from '../words.ts'

/** One night at ONE point, for ONE species. */
export interface PointNight {
  readonly night: NightDate
  /** The watched part, 0 to 1; null where it is not yet known. */
  readonly watched: number | null
  /** The peak of each visit that began in the night, in any order. */
  readonly peaks: readonly number[]
}

export interface SpellTotals {
  /** Whole nights' worth of watching: two nights watched by half count as one. 0: not watched. */
  readonly watchedNights: number
  readonly visits: number
  /** Sum of the visits' peaks. */
  readonly animalVisits: number
  /** Sum of the squares of the visits' peaks: what the spread of animal-visits is told from. */
  readonly squaredPeaks: number
  /** 0 without a visit. */
  readonly largestPeak: number
  /**
   * Visits of nights that were not watched, as by a camera that spoke once: they are in no other number here, because a
   * visit over no time is no rate.
   */
  readonly visitsNotWatched: number
}

export const NO_NIGHTS: SpellTotals = {
  watchedNights: 0,
  visits: 0,
  animalVisits: 0,
  squaredPeaks: 0,
  largestPeak: 0,
  visitsNotWatched: 0,
}

export function totalOf(nights: readonly PointNight[]): SpellTotals {
  return nights.map(totalOfNight).reduce(plus, NO_NIGHTS)
}

/** Two spells that share no night, of one point or of two: their sum is that of all their nights. */
export function plus(a: SpellTotals, b: SpellTotals): SpellTotals {
  return {
    watchedNights: a.watchedNights + b.watchedNights,
    visits: a.visits + b.visits,
    animalVisits: a.animalVisits + b.animalVisits,
    squaredPeaks: a.squaredPeaks + b.squaredPeaks,
    largestPeak: Math.max(a.largestPeak, b.largestPeak),
    visitsNotWatched: a.visitsNotWatched + b.visitsNotWatched,
  }
}

function totalOfNight({ watched, peaks }: PointNight): SpellTotals {
  if (watched === null || watched <= 0) return { ...NO_NIGHTS, visitsNotWatched: peaks.length }
  return {
    watchedNights: watched,
    visits: peaks.length,
    animalVisits: peaks.reduce((sum, peak) => sum + peak, 0),
    squaredPeaks: peaks.reduce((sum, peak) => sum + peak * peak, 0),
    largestPeak: Math.max(0, ...peaks),
    visitsNotWatched: 0,
  }
}
