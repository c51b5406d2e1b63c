/** When a camera's battery will be flat, told from its fall over the last days. */
import { theilSen } from './theil-sen.ts'

/** The lowest reading of a day: a battery that the sun fills by day is told by its dawns. */
export interface BatteryDay {
  /** Whole days since any day that is the same for all. */
  readonly day: number
  readonly lowestPercent: number
}

/** Cameras fail some way above empty, in the cold of the night first (common practice, no source). */
export const FLAT_PERCENT = 20
/** Readings older than this are of another season. */
export const BATTERY_DAYS_BACK = 21
const LEAST_DAYS = 5
/** A rise by so much from one day to the next is another battery, or a charge. */
const CHARGED_BY_PERCENT = 15
/** Without a reading for so long nobody knows what it did since. */
const STALE_DAYS = 3
/** A line through some days says nothing of a far season. */
const FURTHEST_DAYS = 60
const LEVEL = 0.95

export type BatteryOutlook =
  | {
      readonly kind: 'falls'
      readonly percentADay: number
      /** The day on which the line reaches FLAT_PERCENT, and the soonest and latest it may (95 %). */
      readonly flatDay: number
      readonly soonestDay: number
      /** Null: later than can be told. */
      readonly latestDay: number | null
      /** Days with readings that it rests on. */
      readonly days: number
    }
  | { readonly kind: 'flat'; readonly percent: number }
  /** In words for a person. */
  | { readonly kind: 'refused'; readonly because: string }

/**
 * The robust line through the days since the last charge, carried on until it reaches FLAT_PERCENT.
 * @param days with one entry a day at most, in any order
 * @param today as the days are numbered
 */
export function batteryOutlook(days: readonly BatteryDay[], today: number): BatteryOutlook {
  const recent = tellingDays(days, today)
  const last = recent.at(-1)
  if (last === undefined) return refused('It tells no charge.')
  if (today - last.day > STALE_DAYS) return refused(`It has told no charge for ${today - last.day} days.`)
  if (last.lowestPercent <= FLAT_PERCENT) return { kind: 'flat', percent: last.lowestPercent }
  const since = sinceCharge(recent)
  if (since.length < LEAST_DAYS)
    return refused(
      `Too few days to tell: ${since.length} with a reading since it was put in or charged, ${LEAST_DAYS} are needed.`,
    )
  const points = since.map(({ day, lowestPercent }) => ({ x: day - today, y: lowestPercent }))
  const line = theilSen(points, LEVEL)
  if (line.high >= 0) return refused('It does not surely fall.')
  // From the middle of what was seen, as far down as the line and its limits go.
  const middle = { x: medianOf(points.map(({ x }) => x)), y: medianOf(points.map(({ y }) => y)) }
  const reach = (slope: number) => today + Math.max(0, middle.x + (FLAT_PERCENT - middle.y) / slope)
  const flatDay = today + Math.max(0, (FLAT_PERCENT - line.intercept) / line.slope)
  if (flatDay - today > FURTHEST_DAYS)
    return refused(`It falls so slowly that it lasts over ${FURTHEST_DAYS} days.`)
  const latestDay = reach(line.high)
  return {
    kind: 'falls',
    percentADay: -line.slope,
    flatDay,
    soonestDay: Math.min(flatDay, reach(line.low)),
    latestDay: latestDay - today > 2 * FURTHEST_DAYS ? null : Math.max(flatDay, latestDay),
    days: since.length,
  }
}

/**
 * The days that tell, oldest first. The running day does so only where it is no higher than the last: its dawn may be still
 * to come, and an afternoon in the sun would look like a charge.
 */
export function tellingDays(days: readonly BatteryDay[], today: number): readonly BatteryDay[] {
  const recent = days
    .filter(({ day }) => day > today - BATTERY_DAYS_BACK && day <= today)
    .toSorted((a, b) => a.day - b.day)
  const [last, before] = [recent.at(-1), recent.at(-2)]
  const isRunning = last !== undefined && last.day === today
  return isRunning && before !== undefined && last.lowestPercent > before.lowestPercent
    ? recent.slice(0, -1)
    : recent
}

function sinceCharge(recent: readonly BatteryDay[]): readonly BatteryDay[] {
  const charged = recent.findLastIndex(
    ({ lowestPercent }, i) => i > 0 && lowestPercent - recent[i - 1]!.lowestPercent >= CHARGED_BY_PERCENT,
  )
  return recent.slice(Math.max(0, charged))
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b)
  return (sorted[Math.ceil(sorted.length / 2) - 1]! + sorted[Math.floor(sorted.length / 2)]!) / 2
}

function refused(because: string): BatteryOutlook {
  return { kind: 'refused', because }
}
