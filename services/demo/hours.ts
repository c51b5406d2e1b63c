/** The hours of a day in which a visit may begin, by the sun or by the clock. */
import type { Instant } from '../words.ts'
import { clockOn, type DemoDay } from './days.ts'
import type { Random } from './random.ts'

export type Hours =
  | 'mid-morning or evening'
  | 'after dark'
  | 'midnight to dawn'
  | 'around dusk'
  | 'by day'
  | 'day or night'

const HOUR_MS = 3_600_000

/** An instant of the day within the hours, to the second. */
export function momentIn(hours: Hours, day: DemoDay, random: Random): Instant {
  const [from, to] = boundsOf(hours, day, random)
  return (Math.round((from + random.next() * (to - from)) / 1000) * 1000) as Instant
}

function boundsOf(hours: Hours, day: DemoDay, random: Random): readonly [from: number, to: number] {
  const { sunrise, sunset } = day
  const around = (at: Instant, fromHours: number, toHours: number) =>
    [at + fromHours * HOUR_MS, at + toHours * HOUR_MS] as const
  switch (hours) {
    case 'mid-morning or evening':
      return random.next() < 0.5 ? around(sunrise, 2.5, 5) : around(sunset, -2.5, 0.25)
    case 'after dark':
      return around(sunset, 0.8, 4)
    case 'midnight to dawn':
      return [clockOn(day.date, 0), sunrise - 1.5 * HOUR_MS]
    case 'around dusk':
      return around(sunset, -1, 1)
    case 'by day':
      return [sunrise + 1.5 * HOUR_MS, sunset - 2.5 * HOUR_MS]
    case 'day or night':
      return around(clockOn(day.date, 0), 0, 24)
  }
}
