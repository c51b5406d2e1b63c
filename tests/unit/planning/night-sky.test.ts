/** The moon against almanac dates, recalled: new and full moons are those of well-known eclipses. */
import { getMoonPosition } from 'suncalc'
import { describe, expect, it } from 'vitest'
import { moonlight, moonTimes } from '../../../services/planning/moon.ts'
import { nightSky } from '../../../services/planning/night-sky.ts'
import { nightSpell, nightsBetween } from '../../../services/tally/nights.ts'
import type { Instant, NightDate, Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const place = { lat: -28.4, lon: 134.2 }
const at = (iso: string) => Date.parse(iso) as Instant
const HOUR_MS = 3_600_000

describe('the moon', () => {
  it.each([
    // Meeus 1998, Astronomical Algorithms, chapter 49, from memory.
    ['2000-01-06T18:14:00Z', 'new'],
    // Eclipses of the sun, from memory.
    ['1999-08-11T11:08:00Z', 'new'],
    ['2017-08-21T18:30:00Z', 'new'],
    // Eclipses of the moon, from memory.
    ['2000-01-21T04:41:00Z', 'full'],
    ['2018-07-27T20:20:00Z', 'full'],
    ['2019-01-21T05:16:00Z', 'full'],
  ])('of %s is %s', (iso, phase) => {
    const { lit, phase: seen } = moonlight(at(iso))
    expect(seen).toBe(phase)
    expect(Math.abs(lit - (phase === 'full' ? 1 : 0))).toBeLessThan(0.002)
  })

  // Meeus 1998, example 48.a, from memory: 12 April 1992, 0h, lit 0.6786; five days before its full moon.
  it('of 12 April 1992 is 0.679 lit and waxing', () => {
    const { lit, phase } = moonlight(at('1992-04-12T00:00:00Z'))
    expect(lit).toBeCloseTo(0.6786, 2)
    expect(phase).toBe('waxing')
  })

  // Meeus 1998, example 49.b, from memory: last quarter 21 January 2044, 23:48.
  it('of 21 January 2044, 23:48, is half lit and waning', () => {
    const { lit, phase } = moonlight(at('2044-01-21T23:48:00Z'))
    expect(lit).toBeCloseTo(0.5, 2)
    expect(phase).toBe('waning')
  })

  it('rises where it comes over the horizon and sets where it goes under', () => {
    const height = (when: number) => getMoonPosition(new Date(when), place.lat, place.lon).altitude
    for (const night of nightsBetween('2026-11-01' as NightDate, '2026-11-29' as NightDate)) {
      const spell = nightSpell(night, zone)
      const { rises, sets } = moonTimes(spell, place)
      for (const rise of rises) expect(height(rise + HOUR_MS / 4)).toBeGreaterThan(height(rise - HOUR_MS / 4))
      for (const set of sets) expect(height(set + HOUR_MS / 4)).toBeLessThan(height(set - HOUR_MS / 4))
      for (const time of [...rises, ...sets]) {
        expect(time).toBeGreaterThanOrEqual(spell.from)
        expect(time).toBeLessThan(spell.to)
        expect(Math.abs(height(time))).toBeLessThan(1.5)
      }
      // A lunar day is about 50 minutes longer than ours: a rise is missing now and then, and never two nights running.
      expect(rises.length + sets.length).toBeGreaterThan(0)
    }
  })
})

describe('the sky of a night', () => {
  it('has the evening’s sunset and the next morning’s sunrise', () => {
    const night = '2026-11-24' as NightDate
    const { from, to } = nightSpell(night, zone)
    const { sunset, sunrise } = nightSky(night, place, zone)
    expect(sunset!).toBeGreaterThan(from)
    expect(sunrise!).toBeGreaterThan(sunset!)
    expect(sunrise!).toBeLessThan(to)
  })

  it('of a full moon has it up about when the sun goes down', () => {
    // Full on 27 July 2018, 20:20 UT: the morning of the 28th at the station.
    const sky = nightSky('2018-07-27' as NightDate, place, zone)
    expect(sky.phase).toBe('full')
    expect(Math.abs(sky.moonrise! - sky.sunset!)).toBeLessThan(HOUR_MS)
    expect(Math.abs(sky.moonset! - sky.sunrise!)).toBeLessThan(HOUR_MS)
  })
})
