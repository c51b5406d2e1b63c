import fc from 'fast-check'
import { Temporal } from 'temporal-polyfill'
import { describe, expect, it } from 'vitest'
import { Refusal } from '../../services/refusal.ts'
import { otherMeaning, parseInstant, toStationTime, wallToInstant } from '../../services/station-time.ts'
import type { Instant, Zone } from '../../services/words.ts'

// Adelaide: UTC+9:30, in summer UTC+10:30; clocks go forward at 2:00 on the first Sunday of October and back at
// 3:00 summer time on the first Sunday of April (IANA time zone database, rule AS).
const ADELAIDE = 'Australia/Adelaide' as Zone
const at2 = { hour: 2, minute: 30, second: 0 }

describe('station time', () => {
  it('is written with the offset of the day, in whole seconds', () => {
    expect(toStationTime(parseInstant('2026-11-24T19:40:00Z'), ADELAIDE)).toBe('2026-11-25T06:10:00+10:30')
    expect(toStationTime(parseInstant('2026-06-30T12:00:00Z'), ADELAIDE)).toBe('2026-06-30T21:30:00+09:30')
  })

  it('keeps milliseconds where a photo has them', () => {
    const at = parseInstant('2026-11-24T19:40:00.250Z')
    expect(toStationTime(at, ADELAIDE)).toBe('2026-11-25T06:10:00.25+10:30')
  })

  it('is what the zone database says, in any zone and at any time, however often it is asked', () => {
    // Half-hour and 45-minute offsets, two changes a year, changes in both halves of the world, local mean time with
    // seconds before 1900; and UTC, which never changes.
    const zones = [
      'Australia/Adelaide',
      'Australia/Lord_Howe',
      'Asia/Kathmandu',
      'America/New_York',
      'Africa/Casablanca',
      'UTC',
    ]
    const at = fc.integer({ min: Date.UTC(1850, 0, 1), max: Date.UTC(2100, 0, 1) })
    fc.assert(
      fc.property(fc.constantFrom(...zones), at, (zone, ms) => {
        const expected = Temporal.Instant.fromEpochMilliseconds(ms).toString({ timeZone: zone })
        expect(toStationTime(ms as Instant, zone as Zone)).toBe(expected)
      }),
    )
  })

  it('changes its offset at the very second that clocks change', () => {
    const change = parseInstant('2026-10-04T02:00:00+09:30')
    const around = [change - 1000, change, change + 1000, change - 1].map((ms) =>
      toStationTime(ms as Instant, ADELAIDE),
    )
    expect(around).toEqual([
      '2026-10-04T01:59:59+09:30',
      '2026-10-04T03:00:00+10:30',
      '2026-10-04T03:00:01+10:30',
      '2026-10-04T01:59:59.999+09:30',
    ])
  })

  it('read back is the same instant', () => {
    const at = parseInstant('2026-04-05T02:30:00+10:30')
    expect(parseInstant(toStationTime(at, ADELAIDE))).toBe(at)
  })
})

describe('a time that comes in', () => {
  it('names an instant by its offset', () => {
    expect(parseInstant('2026-11-25T06:10:00+10:30')).toBe(Date.UTC(2026, 10, 24, 19, 40))
  })

  it.each(['2026-11-25T06:10:00', '2026-11-25', 'yesterday', ''])(
    'without an offset is refused with the remedy: %j',
    (iso) => {
      expect(() => parseInstant(iso)).toThrow(Refusal)
      expect(() => parseInstant(iso)).toThrow(/offset/)
    },
  )
})

describe('a camera clock without an offset', () => {
  it('means the station zone on an ordinary day', () => {
    const { at, meaning } = wallToInstant(
      { year: 2026, month: 11, day: 25, hour: 6, minute: 10, second: 5 },
      ADELAIDE,
    )
    expect({ at, meaning }).toEqual({ at: Date.UTC(2026, 10, 24, 19, 40, 5), meaning: 'only' })
  })

  it('in the hour lived twice means the earlier, and says so', () => {
    const { at, meaning } = wallToInstant({ year: 2026, month: 4, day: 5, ...at2 }, ADELAIDE)
    expect(toStationTime(at, ADELAIDE)).toBe('2026-04-05T02:30:00+10:30')
    expect(meaning).toBe('earlier of two')
  })

  it('in the hour that was skipped moves forward, and says so', () => {
    const { at, meaning } = wallToInstant({ year: 2026, month: 10, day: 4, ...at2 }, ADELAIDE)
    expect(toStationTime(at, ADELAIDE)).toBe('2026-10-04T03:30:00+10:30')
    expect(meaning).toBe('skipped')
  })

  it.each([
    { year: 2026, month: 2, day: 30, ...at2 },
    { year: 2026, month: 13, day: 1, ...at2 },
    { year: 2026, month: 1, day: 1, hour: 24, minute: 0, second: 0 },
  ])('that shows no real time is not bent into one: $year-$month-$day $hour h', (wall) => {
    expect(() => wallToInstant(wall, ADELAIDE)).toThrow(RangeError)
  })
})

describe('a time that the clock on the wall shows twice', () => {
  it('has another meaning an hour away, and the other has the first', () => {
    const earlier = parseInstant('2026-04-05T02:30:00+10:30')
    const later = parseInstant('2026-04-05T02:30:00+09:30')
    expect(otherMeaning(earlier, ADELAIDE)).toBe(later)
    expect(otherMeaning(later, ADELAIDE)).toBe(earlier)
  })

  it.each([
    '2026-04-05T01:59:59+10:30',
    '2026-04-05T03:00:00+09:30',
    // In the spring an hour is skipped, and none comes twice.
    '2026-10-04T03:30:00+10:30',
    '2026-11-24T02:30:00+10:30',
  ])('is not %s', (iso) => {
    expect(otherMeaning(parseInstant(iso), ADELAIDE)).toBeNull()
  })

  it('is none in a zone whose clocks are never changed', () => {
    expect(otherMeaning(parseInstant('2026-04-05T02:30:00+09:30'), 'Australia/Darwin' as Zone)).toBeNull()
  })
})
