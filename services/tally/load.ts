/** What a species takes from a point: water in litres a day, feed in dry sheep equivalents, as a range. */
import type { RateInterval } from './poisson-interval.ts'

export interface Range {
  readonly low: number
  readonly high: number
}

/** A number of the trade for one animal, with where it was found; `fromMemory`: no handbook value found, check locally. */
export interface Rating extends Range {
  readonly source: string
  readonly fromMemory: boolean
}

export const RATING_KINDS = ['litres', 'sheep', 'visits a day'] as const
export type RatingKind = (typeof RATING_KINDS)[number]

/** The owner may edit all of them. */
export interface Ratings {
  /** Litres an animal drinks a day. */
  readonly litres: Rating
  /** Dry sheep equivalents of an animal. */
  readonly sheep: Rating
  /** How often a day an animal comes in to water. */
  readonly visitsADay: Rating
}

export interface Load {
  /** Head that drink here on an average day. */
  readonly head: RateInterval
  readonly litresADay: RateInterval
  readonly drySheepEquivalents: RateInterval
}

/**
 * From animal-visits per watched night (rates.ts) to head, litres and dry sheep equivalents. `rate` is for the middle of
 * each rating; the range goes from the interval's low end with the low rating to its high end with the high one.
 * @throws RangeError when an animal is rated never to come in
 */
export function loadOf(animalVisits: RateInterval, ratings: Ratings): Load {
  const { low, high } = ratings.visitsADay
  if (!(low > 0 && high >= low)) throw new RangeError('an animal comes in at some rate over 0')
  const head = {
    low: animalVisits.low / high,
    rate: animalVisits.rate / ((low + high) / 2),
    high: animalVisits.high / low,
  }
  return {
    head,
    litresADay: times(head, ratings.litres),
    drySheepEquivalents: times(head, ratings.sheep),
  }
}

const times = (head: RateInterval, { low, high }: Range): RateInterval => ({
  low: head.low * low,
  rate: (head.rate * (low + high)) / 2,
  high: head.high * high,
})
