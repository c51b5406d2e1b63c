import { describe, expect, test } from 'vitest'
import { parseInstant } from '../../../services/station-time.ts'
import { riseAndSet, sunElevation } from '../../../services/tally/sun.ts'
import type { Instant } from '../../../services/words.ts'

/** Between the library's usual air and the reference's (820 mbar, 11 °C), and a sun reckoned by a shorter series. */
const TOLERANCE_DEGREES = 0.01

describe('the sun', () => {
  test('stands where the reference algorithm says (Reda & Andreas 2004, Solar Energy 76:577-589, example: zenith 50.11162)', () => {
    const at = parseInstant('2003-10-17T12:30:30-07:00')
    const elevation = sunElevation(at, { lat: 39.742476, lon: -105.1786 })
    expect(Math.abs(90 - 50.11162 - elevation)).toBeLessThan(TOLERANCE_DEGREES)
  })

  test('is at the horizon at sunrise and sunset, on either side of the noon given, all year', () => {
    const place = { lat: -28.4, lon: 134.2 }
    for (let day = 0; day < 365; day += 1) {
      const noon = (parseInstant('2026-01-01T12:00:00+10:30') + day * 86_400_000) as Instant
      const { sunrise, sunset } = riseAndSet(noon, place)!
      // Under the horizon the library lifts it by the half degree that it lifts it by at the horizon.
      for (const at of [sunrise, sunset])
        expect(Math.abs(sunElevation(at, place) + 0.833 - 0.48)).toBeLessThan(0.02)
      expect(sunrise).toBeGreaterThan(noon - 9 * 3_600_000)
      expect(sunset).toBeLessThan(noon + 9 * 3_600_000)
    }
  })

  test('does not set in a polar summer, and says nothing of when', () => {
    expect(riseAndSet(parseInstant('2026-06-21T12:00:00Z'), { lat: 80, lon: 0 })).toBeNull()
  })
})
