import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseInstant } from '../../../services/station-time.ts'
import {
  nextNight,
  nightOf,
  nightSpell,
  nightsBetween,
  nightToShow,
  previousNight,
} from '../../../services/tally/nights.ts'
import type { Instant, NightDate, Zone } from '../../../services/words.ts'

const ADELAIDE = 'Australia/Adelaide' as Zone
const PERTH = 'Australia/Perth' as Zone
const BERLIN = 'Europe/Berlin' as Zone
// The zones furthest from UTC, +14 and -11 hours (IANA time zone database).
const FAR_EAST = 'Pacific/Kiritimati' as Zone
const FAR_WEST = 'Pacific/Pago_Pago' as Zone
const HOUR_MS = 3_600_000
const night = (date: string) => date as NightDate
const hoursOf = (date: string, zone: Zone) => {
  const { from, to } = nightSpell(night(date), zone)
  return (to - from) / HOUR_MS
}

describe('a night', () => {
  it('runs noon to noon, station time, and has the name of its evening', () => {
    expect(nightOf(parseInstant('2026-11-25T11:59:59+10:30'), ADELAIDE)).toBe('2026-11-24')
    expect(nightOf(parseInstant('2026-11-25T12:00:00+10:30'), ADELAIDE)).toBe('2026-11-25')
    expect(nightOf(parseInstant('2026-11-26T02:00:00+10:30'), ADELAIDE)).toBe('2026-11-25')
  })

  it('at the turn of the year belongs to the old year', () => {
    expect(nightOf(parseInstant('2027-01-01T03:00:00+10:30'), ADELAIDE)).toBe('2026-12-31')
    expect(nextNight(night('2026-12-31'))).toBe('2027-01-01')
    expect(previousNight(night('2028-03-01'))).toBe('2028-02-29')
  })

  // Changes of 2026 from the IANA time zone database: Adelaide first Sunday of April (5th) and October (4th);
  // Berlin last Sunday of March (29th) and October (25th); Perth none.
  it('has 23 hours when clocks go forward in it and 25 when they go back', () => {
    expect(hoursOf('2026-10-03', ADELAIDE)).toBe(23)
    expect(hoursOf('2026-04-04', ADELAIDE)).toBe(25)
    expect(hoursOf('2026-03-28', BERLIN)).toBe(23)
    expect(hoursOf('2026-10-24', BERLIN)).toBe(25)
  })

  it.each([
    [ADELAIDE, ['2026-04-04', '2026-10-03']],
    [BERLIN, ['2026-03-28', '2026-10-24']],
    [PERTH, []],
  ])('has 24 hours on every other date of the year: %s', (zone, changing) => {
    const year = nightsBetween(night('2026-01-01'), night('2026-12-31'))
    expect(year.filter((date) => hoursOf(date, zone) !== 24)).toEqual(changing)
  })

  it.each(['', '2026-13-01', '24-11-2026', '2026-11-24T00:00:00Z'])('is a date, not %j', (wrong) => {
    expect(() => nightSpell(night(wrong), ADELAIDE)).toThrow(RangeError)
  })
})

describe('nights together', () => {
  it.each([ADELAIDE, PERTH, BERLIN])('cover time without hole or overlap: %s', (zone) => {
    const nights = nightsBetween(night('2024-01-01'), night('2028-12-31'))
    nights.slice(1).forEach((later, i) => {
      const earlier = nights[i]
      if (earlier === undefined) throw new Error('no earlier night')
      expect(nightSpell(earlier, zone).to).toBe(nightSpell(later, zone).from)
      expect(nextNight(earlier)).toBe(later)
      expect(previousNight(later)).toBe(earlier)
    })
  })

  it('put every instant in the one night whose spell holds it', () => {
    const instant = fc.integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2060, 0, 1) })
    fc.assert(
      fc.property(instant, fc.constantFrom(ADELAIDE, PERTH, BERLIN, FAR_EAST, FAR_WEST), (ms, zone) => {
        const at = ms as Instant
        const { from, to } = nightSpell(nightOf(at, zone), zone)
        expect(from <= at && at < to).toBe(true)
      }),
    )
  })

  it('hold both ends of a spell of nights, and none when the ends are swapped', () => {
    expect(nightsBetween(night('2026-02-27'), night('2026-03-01'))).toEqual([
      '2026-02-27',
      '2026-02-28',
      '2026-03-01',
    ])
    expect(nightsBetween(night('2026-03-01'), night('2026-02-27'))).toEqual([])
  })

  it('answer the same after years of other nights have been asked for', () => {
    const asked = parseInstant('2026-11-25T06:10:00+10:30')
    for (const date of nightsBetween(night('2000-01-01'), night('2015-01-01'))) nightSpell(date, ADELAIDE)
    expect(nightOf(asked, ADELAIDE)).toBe('2026-11-24')
  })
})

describe('the night a manager means', () => {
  it.each([
    ['2026-11-25T02:00:00+10:30', '2026-11-24', 'the night under way'],
    ['2026-11-25T06:10:00+10:30', '2026-11-24', 'before breakfast, last night'],
    ['2026-11-25T14:00:00+10:30', '2026-11-24', 'after dinner, still last night'],
    ['2026-11-25T17:59:59+10:30', '2026-11-24', 'until six, still last night'],
    ['2026-11-25T18:00:00+10:30', '2026-11-25', 'from six, tonight so far'],
    ['2026-11-25T20:00:00+10:30', '2026-11-25', 'in the evening, tonight so far'],
  ])('at %s is %s: %s', (iso, expected) => {
    expect(nightToShow(parseInstant(iso), ADELAIDE)).toBe(expected)
  })
})
