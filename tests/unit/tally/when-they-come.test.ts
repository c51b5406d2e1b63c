import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseInstant } from '../../../services/station-time.ts'
import { FULL_CIRCLE } from '../../../services/tally/circular-density.ts'
import { clockAngle, heldToSun, meanSun } from '../../../services/tally/clock-angle.ts'
import {
  LEAST_VISITS,
  STEPS_A_DAY,
  shareWithin,
  whenTheyCome,
} from '../../../services/tally/when-they-come.ts'
import type { Zone } from '../../../services/words.ts'

const ADELAIDE = 'Australia/Adelaide' as Zone
const at = (hour: number) => (hour / 24) * FULL_CIRCLE
const angle = fc.double({ min: 0, max: FULL_CIRCLE, noNaN: true, maxExcluded: true })

describe('the curve of when they come', () => {
  it('holds all visits: its day sums to 1, and nothing is under 0', () => {
    fc.assert(
      fc.property(fc.array(angle, { minLength: LEAST_VISITS, maxLength: 60 }), (angles) => {
        const { shareAnHour } = whenTheyCome(angles)!
        expect(shareAnHour).toHaveLength(STEPS_A_DAY)
        expect(shareAnHour.reduce((sum, share) => sum + share, 0) / (STEPS_A_DAY / 24)).toBeCloseTo(1, 6)
        expect(Math.min(...shareAnHour)).toBeGreaterThanOrEqual(0)
      }),
      { numRuns: 30 },
    )
  })

  it('turns with the clock: visits three hours later are a curve three hours later', () => {
    const angles = Array.from({ length: 30 }, (_, i) => at(19 + (i % 7) / 3))
    const later = angles.map((of) => of + at(3))
    const [curve, moved] = [whenTheyCome(angles)!, whenTheyCome(later)!].map(({ shareAnHour }) => shareAnHour)
    curve!.forEach((share, step) => {
      expect(moved![(step + STEPS_A_DAY / 8) % STEPS_A_DAY]).toBeCloseTo(share, 9)
    })
  })

  it('has its top where they come, over midnight as well', () => {
    const { shareAnHour } = whenTheyCome(Array.from({ length: 21 }, (_, i) => at(23.7 + (i % 3) * 0.3)))!
    expect(shareAnHour.indexOf(Math.max(...shareAnHour))).toBe(0)
    const curve = { shareAnHour, visits: 21 }
    expect(shareWithin(curve, { from: 20, to: 4 })).toBeGreaterThan(0.9)
    expect(shareWithin(curve, { from: 20, to: 4 }) + shareWithin(curve, { from: 4, to: 20 })).toBeCloseTo(
      1,
      6,
    )
  })

  it('is not drawn under ten visits', () => {
    expect(whenTheyCome(Array(LEAST_VISITS - 1).fill(at(3)))).toBeNull()
  })
})

describe('a time of day', () => {
  it('is what the station’s clock shows, before and after clocks change', () => {
    // 2026-10-04 at 02:00 clocks in Adelaide go forward to 03:00 (IANA time zone database).
    expect(clockAngle(parseInstant('2026-10-03T18:00:00+09:30'), ADELAIDE)).toBeCloseTo(at(18), 12)
    expect(clockAngle(parseInstant('2026-10-04T06:30:00+10:30'), ADELAIDE)).toBeCloseTo(at(6.5), 12)
    expect(clockAngle(parseInstant('2026-11-24T13:30:00Z'), ADELAIDE)).toBeCloseTo(0, 12)
  })
})

describe('a time held to the sun', () => {
  const mean = { sunrise: at(6), sunset: at(18) }
  const summer = { sunrise: at(5), sunset: at(20) }

  it('is at the mean sunrise and sunset when it was at that day’s', () => {
    expect(heldToSun(at(5), summer, mean)).toBeCloseTo(at(6), 12)
    expect(heldToSun(at(20), summer, mean)).toBeCloseTo(at(18), 12)
  })

  it('stretches the day and the night each evenly', () => {
    expect(heldToSun(at(12.5), summer, mean)).toBeCloseTo(at(12), 12)
    expect(heldToSun(at(0.5), summer, mean)).toBeCloseTo(at(0), 9)
    expect(heldToSun(at(21.5), summer, mean)).toBeCloseTo(at(20), 12)
  })

  it('goes round the clock once and in order', () => {
    fc.assert(
      fc.property(angle, angle, (a, b) => {
        const since = (of: number) => (heldToSun(of, summer, mean) - mean.sunrise + FULL_CIRCLE) % FULL_CIRCLE
        const sinceSunrise = (of: number) => (of - summer.sunrise + FULL_CIRCLE) % FULL_CIRCLE
        fc.pre(
          Math.abs(sinceSunrise(a) - sinceSunrise(b)) > 1e-9 &&
            Math.min(sinceSunrise(a), sinceSunrise(b)) > 1e-9,
        )
        expect(since(a) < since(b)).toBe(sinceSunrise(a) < sinceSunrise(b))
      }),
    )
  })

  it('is held to the middle of the days, over midnight as well', () => {
    const { sunrise, sunset } = meanSun([
      { sunrise: at(5), sunset: at(23.5) },
      { sunrise: at(7), sunset: at(0.5) },
    ])
    expect(sunrise).toBeCloseTo(at(6), 9)
    expect(Math.cos(sunset)).toBeCloseTo(1, 9)
  })
})
