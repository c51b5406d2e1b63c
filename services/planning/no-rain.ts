/** What if the rain fails: how long the feed round each water lasts, on the owner's own numbers. */
import type { Range } from '../tally/load.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import type { NightDate } from '../words.ts'

export interface FeedAtPoint {
  readonly pointId: number
  /** Dry matter that may still be eaten within a walk of the water, kilograms, as the owner rates it. */
  readonly feedKg: Range
  /** Dry sheep equivalents that stock and feral animals eat there (tally/load.ts). */
  readonly stockSheep: RateInterval
  readonly feralSheep: RateInterval
}

export interface NoRain {
  /** Days without rain to get through, such as 42. */
  readonly days: number
  /** Dry matter that one dry sheep eats a day, kilograms, over 0. */
  readonly kgASheepDay: Range
  readonly today: NightDate
}

export type FeedWord = 'lasts' | 'may run out' | 'runs out'

/** Each null: no end, as nothing may eat there. */
export interface FeedDays {
  readonly low: number | null
  readonly middle: number | null
  readonly high: number | null
}

export interface FeedLeft {
  readonly pointId: number
  readonly says: FeedWord
  readonly days: FeedDays
  /** The same if no feral animal ate there. */
  readonly daysWithoutFeral: FeedDays
  /** The first day without feed, at the low end and in the middle; null where it is later than the days asked for. */
  readonly runsOutOn: { readonly low: NightDate | null; readonly middle: NightDate | null }
  /** Dry sheep equivalents that the feed would carry for all the days. */
  readonly carries: Range
}

const DAY_MS = 86_400_000

/** Every point, in the order given. @throws RangeError for days or a ration that are not over 0, or feed below 0 */
export function feedLeft(points: readonly FeedAtPoint[], given: NoRain): FeedLeft[] {
  const { days, kgASheepDay, today } = given
  if (!(days > 0 && kgASheepDay.low > 0 && kgASheepDay.high >= kgASheepDay.low))
    throw new RangeError('days without rain and what a sheep eats are over 0')
  return points.map(({ pointId, feedKg, stockSheep, feralSheep }) => {
    if (!(feedKg.low >= 0 && feedKg.high >= feedKg.low))
      throw new RangeError(`point ${pointId}: feed is no less than 0`)
    const all = {
      low: stockSheep.low + feralSheep.low,
      rate: stockSheep.rate + feralSheep.rate,
      high: stockSheep.high + feralSheep.high,
    }
    const left = daysOf(feedKg, all, kgASheepDay)
    const within = (end: number | null): end is number => end !== null && end < days
    const on = (end: number | null) => (within(end) ? dayAfter(today, Math.floor(end)) : null)
    return {
      pointId,
      says: !within(left.low) ? 'lasts' : within(left.high) ? 'runs out' : 'may run out',
      days: left,
      daysWithoutFeral: daysOf(feedKg, stockSheep, kgASheepDay),
      runsOutOn: { low: on(left.low), middle: on(left.middle) },
      carries: {
        low: feedKg.low / (kgASheepDay.high * days),
        high: feedKg.high / (kgASheepDay.low * days),
      },
    }
  })
}

function daysOf(feed: Range, sheep: RateInterval, kg: Range): FeedDays {
  const middle = (range: Range) => (range.low + range.high) / 2
  const last = (kilograms: number, aDay: number) => (aDay === 0 ? null : kilograms / aDay)
  return {
    low: last(feed.low, sheep.high * kg.high),
    middle: last(middle(feed), sheep.rate * middle(kg)),
    high: last(feed.high, sheep.low * kg.low),
  }
}

const dayAfter = (date: NightDate, days: number) =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10) as NightDate
