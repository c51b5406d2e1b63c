/** When a camera's address is asked next. */
import { describe, expect, test } from 'vitest'
import { nextTurn, waitAfterFailure } from '../../../services/sources/snapshot-times.ts'
import { parseInstant } from '../../../services/station-time.ts'
import { riseAndSet } from '../../../services/tally/sun.ts'

const place = { lat: -28.4, lon: 134.2 }
const at = (time: string) => parseInstant(`2026-11-25T${time}:00+10:30`)
const { sunrise, sunset } = riseAndSet(at('12:30'), place)!
const minutesTo = (from: number, to: number) => (to - from) / 60_000

describe('turns', () => {
  test('by day as it is set, and at night too unless set otherwise', () => {
    const times = { everyMinutes: 15, nightEveryMinutes: null }
    expect(minutesTo(at('12:00'), nextTurn(at('12:00'), place, times))).toBe(15)
    expect(minutesTo(at('23:00'), nextTurn(at('23:00'), place, times))).toBe(15)
  })
  test('at night as that is set', () => {
    const times = { everyMinutes: 240, nightEveryMinutes: 5 }
    expect(minutesTo(at('12:00'), nextTurn(at('12:00'), place, times))).toBe(240)
    expect(minutesTo(at('23:00'), nextTurn(at('23:00'), place, times))).toBe(5)
  })
  test('a night that begins before the next turn by day begins its own turns', () => {
    const next = nextTurn((sunset - 30 * 60_000) as typeof sunset, place, {
      everyMinutes: 240,
      nightEveryMinutes: 5,
    })
    expect(Math.abs(minutesTo(sunset, next))).toBeLessThan(6)
  })
  test('and a day that begins before the next turn at night', () => {
    const next = nextTurn((sunrise - 60 * 60_000) as typeof sunrise, place, {
      everyMinutes: 10,
      nightEveryMinutes: 600,
    })
    expect(Math.abs(minutesTo(sunrise, next))).toBeLessThan(6)
  })
})

describe('after failures in a row', () => {
  const waits = (usualMinutes: number, isRefused = false) =>
    [1, 2, 3, 4, 7, 8, 40].map((failures) => waitAfterFailure({ failures, usualMinutes, isRefused }))
  test('soon, then later and later, up to an hour', () => {
    expect(waits(15)).toEqual([1, 2, 4, 8, 60, 60, 60])
  })
  test('up to its usual time where that is longer', () => {
    expect(waits(240)).toEqual([1, 2, 4, 8, 64, 128, 240])
  })
  test('a refused password is tried seldom: cameras lock out', () => {
    expect(waits(15, true)).toEqual([10, 20, 40, 80, 360, 360, 360])
  })
})
