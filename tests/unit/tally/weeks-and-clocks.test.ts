/** Weeks of nights where clocks change: a week begins at noon on Monday, whatever its clocks do. */
import fc from 'fast-check'
import { Temporal } from 'temporal-polyfill'
import { describe, expect, it } from 'vitest'
import { nightOf, nightSpell, nightsBetween } from '../../../services/tally/nights.ts'
import { weekOf } from '../../../services/tally/weeks.ts'
import type { Instant, NightDate, Zone } from '../../../services/words.ts'

const HOUR_MS = 3_600_000
/** Weeks of 2026 in which clocks change, by their Monday (IANA time zone database), with their hours. */
const ZONES = [
  ['Australia/Adelaide', { '2026-03-30': 169, '2026-09-28': 167 }],
  ['Australia/Perth', {}],
  ['Europe/Berlin', { '2026-03-23': 167, '2026-10-19': 169 }],
] as const

describe.each(ZONES)('the weeks of 2026 in %s', (name, changed) => {
  const zone = name as Zone
  const nights = nightsBetween('2026-01-01' as NightDate, '2026-12-31' as NightDate)
  const mondays = [...new Set(nights.map((night) => weekOf(night).from))]

  it('have 168 hours, one less or more where clocks change in them', () => {
    const hours = mondays.map((monday) => {
      const { from, to } = weekOf(monday)
      return [monday, (nightSpell(to, zone).to - nightSpell(from, zone).from) / HOUR_MS] as const
    })
    expect(Object.fromEntries(hours.filter(([, of]) => of !== 168))).toEqual(changed)
  })

  it('begin at noon on Monday, station time, and leave no hole', () => {
    for (const monday of mondays) {
      const noon = Temporal.PlainDate.from(monday).toZonedDateTime({ timeZone: zone, plainTime: '12:00' })
      expect(noon.dayOfWeek).toBe(1)
      const at = noon.epochMilliseconds
      expect(weekOf(nightOf(at as Instant, zone)).from).toBe(monday)
      expect(weekOf(nightOf((at - 1) as Instant, zone)).from).toBe(
        noon.subtract({ days: 7 }).toPlainDate().toString(),
      )
    }
  })

  it('hold every instant of their seven nights and no other', () => {
    const instant = fc.integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2027, 0, 1) })
    fc.assert(
      fc.property(instant, (ms) => {
        const { from, to } = weekOf(nightOf(ms as Instant, zone))
        expect(nightSpell(from, zone).from <= ms && ms < nightSpell(to, zone).to).toBe(true)
      }),
    )
  })
})

it('all nights of a week lie in one week of ISO 8601, as the calendar library numbers them', () => {
  for (const night of nightsBetween('2024-12-20' as NightDate, '2027-01-10' as NightDate)) {
    const [day, monday] = [night, weekOf(night).from].map((date) => Temporal.PlainDate.from(date))
    expect([day!.yearOfWeek, day!.weekOfYear]).toEqual([monday!.yearOfWeek, monday!.weekOfYear])
  }
})
