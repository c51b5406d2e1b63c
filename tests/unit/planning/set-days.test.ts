/** The days of a gate plan: over midnight, over a change of clocks, and the least visits of people. */
import { describe, expect, it } from 'vitest'
import { setDays } from '../../../services/planning/set-days.ts'
import { toStationTime } from '../../../services/station-time.ts'
import type { NightDate, Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const days = (hours: { from: number; to: number }, first: string, many = 2) =>
  setDays(hours, { first: first as NightDate, days: many, zone }).map(({ on, setAt, shutAt }) => [
    on,
    toStationTime(setAt, zone),
    toStationTime(shutAt, zone),
  ])

describe('a trap that is set each day', () => {
  it('is shut down the next morning where its hours go over midnight', () => {
    expect(days({ from: 19.5, to: 5 }, '2026-12-31')).toEqual([
      ['2026-12-31', '2026-12-31T19:30:00+10:30', '2027-01-01T05:00:00+10:30'],
      ['2027-01-01', '2027-01-01T19:30:00+10:30', '2027-01-02T05:00:00+10:30'],
    ])
  })

  it('and on the same day where they do not', () => {
    expect(days({ from: 1, to: 4.5 }, '2026-12-01', 1)).toEqual([
      ['2026-12-01', '2026-12-01T01:00:00+10:30', '2026-12-01T04:30:00+10:30'],
    ])
  })

  it('goes by the wall clock over the night that clocks change', () => {
    // Clocks there went from 02:00 +09:30 to 03:00 +10:30 on 2026-10-04 (IANA time zone database).
    expect(days({ from: 20, to: 6 }, '2026-10-03', 1)).toEqual([
      ['2026-10-03', '2026-10-03T20:00:00+09:30', '2026-10-04T06:00:00+10:30'],
    ])
  })

  it('all day round is shut down when it is set again', () => {
    const [first, second] = setDays({ from: 8, to: 8 }, { first: '2026-12-01' as NightDate, days: 2, zone })
    expect(first!.shutAt).toBe(second!.setAt)
  })

  it('is visited once a day at least', () => {
    const set = setDays({ from: 8, to: 8 }, { first: '2026-12-01' as NightDate, days: 9, zone })
    expect(set.reduce((sum, { visits }) => sum + visits, 0)).toBe(9)
  })

  it('is set on whole days', () => {
    expect(() => days({ from: 1, to: 2 }, '2026-12-01', 0)).toThrow(RangeError)
    expect(() => days({ from: 1, to: 2 }, '2026-12-01', 1.5)).toThrow(RangeError)
  })
})
