import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nightsBetween } from '../../../services/tally/nights.ts'
import { weekBefore, weekOf } from '../../../services/tally/weeks.ts'
import type { NightDate } from '../../../services/words.ts'

describe('a week of nights', () => {
  // The calendar: 2026-11-23 is a Monday; 2024 has a 29 February, and 2025-12-29 begins the week of New Year.
  it.each([
    ['2026-11-23', '2026-11-23', '2026-11-29'],
    ['2026-11-29', '2026-11-23', '2026-11-29'],
    ['2026-11-30', '2026-11-30', '2026-12-06'],
    ['2024-02-29', '2024-02-26', '2024-03-03'],
    ['2026-01-01', '2025-12-29', '2026-01-04'],
  ])('of %s runs from Monday %s to Sunday %s', (night, from, to) => {
    expect(weekOf(night as NightDate)).toEqual({ from, to })
  })

  it('has seven nights, and is the week of each of them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40_000 }), (day) => {
        const night = new Date(day * 86_400_000).toISOString().slice(0, 10) as NightDate
        const week = weekOf(night)
        const nights = nightsBetween(week.from, week.to)
        expect(nights).toHaveLength(7)
        expect(nights).toContain(night)
        for (const one of nights) expect(weekOf(one)).toEqual(week)
      }),
    )
  })
})

it('the week before is the seven nights before its Monday, over a change of year too', () => {
  const week = weekOf('2027-01-06' as NightDate)
  expect(weekBefore(week)).toEqual({ from: '2026-12-28', to: '2027-01-03' })
})
