/** Offsets and changes of clocks: IANA time zone database. */
import { expect, test } from 'vitest'
import { atWallClock, startOfDay } from '../../../web/parts/start-of-day.ts'

test.each([
  ['in summer', '2026-11-25', 'Australia/Adelaide', '2026-11-25T00:00:00+10:30'],
  ['in winter', '2026-07-01', 'Australia/Adelaide', '2026-07-01T00:00:00+09:30'],
  ['on the day clocks go forward at 2', '2026-10-04', 'Australia/Adelaide', '2026-10-04T00:00:00+09:30'],
  ['the day after', '2026-10-05', 'Australia/Adelaide', '2026-10-05T00:00:00+10:30'],
  ['on the day clocks go back at 3', '2026-04-05', 'Australia/Adelaide', '2026-04-05T00:00:00+10:30'],
  [
    'west of the meridian, on the day clocks go forward',
    '2026-03-08',
    'America/Denver',
    '2026-03-08T00:00:00-07:00',
  ],
  ['at the meridian', '2026-01-10', 'Europe/London', '2026-01-10T00:00:00+00:00'],
])('a day begins at midnight of its zone: %s', (_when, date, zone, start) => {
  expect(startOfDay(date, zone)).toBe(start)
})

test.each(['', 'yesterday', '2026-13-01'])(
  'what is no day goes as typed, to be refused by name: "%s"',
  (typed) => {
    expect(startOfDay(typed, 'Australia/Darwin')).toBe(typed)
  },
)

test.each([
  ['2026-11-24', '21:40', '2026-11-24T21:40:00+10:30'],
  ['2026-07-01', '21:40:05', '2026-07-01T21:40:05+09:30'],
  // Clocks go forward at 2:00 on 4 October and back at 3:00 on 5 April.
  ['2026-10-04', '03:30', '2026-10-04T03:30:00+10:30'],
  ['2026-10-04', '01:30', '2026-10-04T01:30:00+09:30'],
  ['2026-04-05', '03:30', '2026-04-05T03:30:00+09:30'],
  ['2026-04-05', '01:30', '2026-04-05T01:30:00+10:30'],
])('a time on the wall has the offset of its own hour: %s %s', (date, clock, at) => {
  expect(atWallClock(date, clock, 'Australia/Adelaide')).toBe(at)
})

test('what is no time goes as typed, to be refused by name', () => {
  expect(atWallClock('2026-11-24', '', 'Australia/Darwin')).toBe('2026-11-24T')
})
