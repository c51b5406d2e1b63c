import { describe, expect, test } from 'vitest'
import { lightAt, sunElevationDegrees, sunriseAndSunset } from '../../../services/demo/sun.ts'
import { parseInstant } from '../../../services/station-time.ts'
import type { Instant } from '../../../services/words.ts'

describe('the sun', () => {
  test('stands where the reference algorithm says (Reda & Andreas 2004: zenith 50.12795 without refraction)', () => {
    const at = parseInstant('2003-10-17T12:30:30-07:00')
    const elevation = sunElevationDegrees(at, { lat: 39.742476, lon: -105.1786 })
    expect(Math.abs(90 - 50.12795 - elevation)).toBeLessThan(0.3)
  })
  test('is on the horizon at sunrise and at sunset, on every day of the year', () => {
    const place = { lat: -28.4, lon: 134.2 }
    for (let day = 0; day < 365; day += 1) {
      const noon = (parseInstant('2026-01-01T12:00:00+09:30') + day * 86_400_000) as Instant
      const { sunrise, sunset } = sunriseAndSunset(noon, place)
      expect(Math.abs(sunElevationDegrees(sunrise, place) + 0.833)).toBeLessThan(0.3)
      expect(Math.abs(sunElevationDegrees(sunset, place) + 0.833)).toBeLessThan(0.3)
      expect(noon - sunrise).toBeGreaterThan(0)
      expect(sunset - noon).toBeGreaterThan(0)
      expect(sunset - sunrise).toBeLessThan(86_400_000 / 1.6)
    }
  })
  test('lights the stills at noon and not at midnight', () => {
    const place = { lat: -28.4, lon: 134.2 }
    expect(lightAt(parseInstant('2026-11-25T12:00:00+10:30'), place)).toBe('day')
    expect(lightAt(parseInstant('2026-11-25T00:00:00+10:30'), place)).toBe('night')
  })
  test('neither rises nor sets in the polar summer, and says so', () => {
    expect(() => sunriseAndSunset(parseInstant('2026-06-21T12:00:00Z'), { lat: 80, lon: 0 })).toThrow(
      RangeError,
    )
  })
})
