import { describe, expect, test } from 'vitest'
import { weekAfter, weekName, weekNamed } from '../../../services/tally/week-name.ts'
import { weekOf } from '../../../services/tally/weeks.ts'
import type { NightDate } from '../../../services/words.ts'

/** ISO 8601's own corner cases, from memory: the year of a week is that of its Thursday. */
const NAMED = [
  ['2026-11-09', '2026-W46'],
  ['2026-11-15', '2026-W46'],
  ['2020-12-31', '2020-W53'],
  ['2021-01-03', '2020-W53'],
  ['2021-01-04', '2021-W01'],
  ['2024-12-30', '2025-W01'],
  ['2027-01-01', '2026-W53'],
] as const

describe('the name of a week', () => {
  test.each(NAMED)('the night of %s is in %s', (night, name) => {
    const week = weekOf(night as NightDate)
    expect(weekName(week)).toBe(name)
    expect(weekNamed(name)).toEqual(week)
  })
  test('each week of thirty years has a name of its own that leads back to it', () => {
    let week = weekOf('2015-01-05' as NightDate)
    const names = new Set<string>()
    for (let i = 0; i < 30 * 52; i++) {
      expect(weekNamed(weekName(week))).toEqual(week)
      names.add(weekName(week))
      week = weekAfter(week, 1)
    }
    expect(names.size).toBe(30 * 52)
  })
  test.each(['2021-W53', '2026-W00', '2026-W54', '2026-46', '2026-W4', ''])('%s is no week', (name) => {
    expect(weekNamed(name)).toBeNull()
  })
})
