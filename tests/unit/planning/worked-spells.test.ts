/** Which nights are before a program and which after. */
import { describe, expect, it } from 'vitest'
import { lengthOf, workedSpells, yearBefore } from '../../../services/planning/worked-spells.ts'
import type { NightDate } from '../../../services/words.ts'

const night = (text: string) => text as NightDate
const nights = (from: string, to: string) => ({ from: night(from), to: night(to) })
const program = nights('2026-10-20', '2026-10-24')

describe('the spells of a program', () => {
  it('are four weeks before its first night and four after its last', () => {
    const spells = workedSpells({ program, days: [], lastNightOver: night('2026-12-31') })
    expect(spells).toEqual({
      own: program,
      before: nights('2026-09-22', '2026-10-19'),
      after: nights('2026-10-25', '2026-11-21'),
    })
    expect([lengthOf(spells.before), lengthOf(spells.after!)]).toEqual([28, 28])
  })

  it('are equal, and as long as there are nights after it', () => {
    const { before, after } = workedSpells({ program, days: [], lastNightOver: night('2026-11-03') })
    expect(after).toEqual(nights('2026-10-25', '2026-11-03'))
    expect(before).toEqual(nights('2026-10-10', '2026-10-19'))
  })

  it('have no after while the program runs, nor on its last night', () => {
    for (const last of ['2026-10-01', '2026-10-22', '2026-10-24'])
      expect(workedSpells({ program, days: [], lastNightOver: night(last) }).after).toBeNull()
  })

  it('leave out the days of what was taken outside the window', () => {
    const days = ['2026-10-26', '2026-10-19', '2026-10-21']
    const { own, before, after } = workedSpells({ program, days, lastNightOver: night('2026-12-31') })
    // Taken on the morning of the 19th: in the night of the 18th.
    expect(own).toEqual(nights('2026-10-18', '2026-10-26'))
    expect(before.to).toBe('2026-10-17')
    expect(after!.from).toBe('2026-10-27')
  })

  it('can be given, one or both', () => {
    const given = (wanted: { before?: number; after?: number }) => {
      const { before, after } = workedSpells({
        program,
        days: [],
        lastNightOver: night('2026-12-31'),
        nights: wanted,
      })
      return [lengthOf(before), lengthOf(after!)]
    }
    expect(given({ before: 42, after: 14 })).toEqual([42, 14])
    expect(given({ after: 14 })).toEqual([14, 14])
    expect(given({ before: 56 })).toEqual([56, 28])
  })
})

it('last year’s are the same days', () => {
  expect(yearBefore(nights('2026-09-22', '2026-10-19'))).toEqual(nights('2025-09-22', '2025-10-19'))
  expect(yearBefore(nights('2028-02-20', '2028-02-29'))).toEqual(nights('2027-02-20', '2027-03-01'))
})
