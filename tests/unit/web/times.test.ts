import { describe, expect, test } from 'vitest'
import {
  age,
  clockOf,
  clockSpan,
  dayAndClock,
  dayName,
  lengthOf,
  nightAfter,
  nightAt,
  nightMeant,
  nightName,
} from '../../../web/text/times.ts'

describe("times on screen are the station's wall clock", () => {
  test('the clock is read off the station time, whatever zone the browser is in', () => {
    expect(clockOf('2026-11-25T06:10:00+10:30')).toBe('06:10')
    expect(dayAndClock('2026-11-25T06:10:00+10:30')).toBe('Wed 25 Nov, 06:10')
  })

  test('weekdays agree with the calendar', () => {
    // 24 November 2026 is a Tuesday, 29 February 2028 a Tuesday (ISO 8601 calendar).
    expect(dayName('2026-11-24')).toBe('Tue 24 Nov')
    expect(dayName('2028-02-29')).toBe('Tue 29 Feb')
  })

  test('an age says the largest unit that has passed in full', () => {
    const now = '2026-11-25T06:10:00+10:30'
    expect(age('2026-11-25T06:09:30+10:30', now)).toBe('just now')
    expect(age('2026-11-25T05:30:00+10:30', now)).toBe('40 min ago')
    expect(age('2026-11-25T03:00:00+10:30', now)).toBe('3 h ago')
    expect(age('2026-11-23T06:11:00+10:30', now)).toBe('47 h ago')
    expect(age('2026-11-21T06:00:00+10:30', now)).toBe('4 days ago')
  })

  test('an age over a change of clocks counts hours that passed, not hours on the wall', () => {
    // Australia/Adelaide leaves summer time on 5 April 2026 at 03:00 (rule: first Sunday in April).
    expect(lengthOf('2026-04-05T01:30:00+10:30', '2026-04-05T04:30:00+09:30')).toBe('4 h')
  })

  test('a time ahead of now is not a negative age', () => {
    expect(age('2026-11-25T06:20:00+10:30', '2026-11-25T06:10:00+10:30')).toBe('just now')
  })

  test('a span of one minute is one clock time; over midnight it is two', () => {
    expect(clockSpan('2026-11-24T21:40:05+10:30', '2026-11-24T21:40:50+10:30')).toBe('21:40')
    expect(clockSpan('2026-11-24T21:40:00+10:30', '2026-11-24T22:15:00+10:30')).toBe('21:40 to 22:15')
    expect(clockSpan('2026-11-24T23:10:00+10:30', '2026-11-25T23:10:00+10:30')).toBe('23:10 to 23:10')
  })
})

describe('nights are named by their evening', () => {
  test('a night names both its days, and the month once where it is the same', () => {
    expect(nightName('2026-11-24')).toBe('Tue 24 to Wed 25 Nov')
    expect(nightName('2026-11-30')).toBe('Mon 30 Nov to Tue 1 Dec')
  })

  test('the night after the last of the year is in the next year', () => {
    expect(nightAfter('2026-12-31', 1)).toBe('2027-01-01')
    expect(nightAfter('2028-03-01', -1)).toBe('2028-02-29')
  })

  test('before noon it is still the night of the evening before', () => {
    expect(nightAt('2026-11-25T11:59:00+10:30')).toBe('2026-11-24')
    expect(nightAt('2026-11-25T12:00:00+10:30')).toBe('2026-11-25')
  })

  test('someone who looks in the afternoon means the night that ended at noon', () => {
    expect(nightMeant('2026-11-25T17:59:00+10:30')).toBe('2026-11-24')
    expect(nightMeant('2026-11-25T18:00:00+10:30')).toBe('2026-11-25')
  })
})
