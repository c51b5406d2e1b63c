/** The robust line against its author's own example, and how often its limits hold. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { theilSen } from '../../../services/tally/theil-sen.ts'
import { chanceFrom } from './chance.ts'

/** Sen 1968, section 6: his points, his slope 4, and his limits 26/7 and 35/8 at 93 %. (The numbers from memory.) */
const SEN = [
  [1, 9],
  [2, 15],
  [3, 19],
  [4, 20],
  [10, 45],
  [12, 55],
  [18, 78],
].map(([x, y]) => ({ x: x!, y: y! }))

test('Sen’s example', () => {
  const line = theilSen(SEN, 0.93)
  expect(line.slope).toBe(4)
  expect(line.low).toBeCloseTo(26 / 7, 12)
  expect(line.high).toBeCloseTo(35 / 8, 12)
})

test('one point far off moves a line through many hardly', () => {
  const straight = Array.from({ length: 11 }, (_, x) => ({ x, y: 90 - 2 * x }))
  const withSlip = straight.map((point) => (point.x === 5 ? { x: 5, y: 3 } : point))
  expect(theilSen(withSlip, 0.95)).toMatchObject({ slope: -2, intercept: 90 })
})

describe('of any points', () => {
  const points = fc
    .uniqueArray(fc.integer({ min: -30, max: 30 }), { minLength: 2, maxLength: 12 })
    .chain((xs) => fc.tuple(...xs.map((x) => fc.integer({ min: 0, max: 100 }).map((y) => ({ x, y })))))
  test('its order does not matter, and its limits hold its slope', () => {
    fc.assert(
      fc.property(points, (some) => {
        const line = theilSen(some, 0.95)
        const turned = theilSen(some.toReversed(), 0.95)
        for (const part of ['slope', 'low', 'high', 'intercept'] as const)
          expect(turned[part]).toBeCloseTo(line[part], 9)
        expect(line.low).toBeLessThanOrEqual(line.slope)
        expect(line.high).toBeGreaterThanOrEqual(line.slope)
      }),
    )
  })
  test('lifted or tilted, the line is lifted and tilted with them', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: -5, max: 5 }), (some, tilt) => {
        const tilted = some.map(({ x, y }) => ({ x, y: y + tilt * x + 7 }))
        const [before, after] = [theilSen(some, 0.95), theilSen(tilted, 0.95)]
        expect(after.slope).toBeCloseTo(before.slope + tilt, 9)
        expect(after.intercept).toBeCloseTo(before.intercept + 7, 9)
      }),
    )
  })
})

test('limits of 95 % hold the true fall at least nearly so often, with readings in whole per cent', () => {
  const chance = chanceFrom(7)
  const shares = [5, 8, 14, 21].map((days) => {
    let held = 0
    for (let run = 0; run < 1_000; run += 1) {
      const fall = 0.5 + 2 * chance.uniform()
      const some = Array.from({ length: days }, (_, x) => ({
        x,
        y: Math.round(90 - fall * x + 1.5 * chance.normal()),
      }))
      const { low, high } = theilSen(some, 0.95)
      if (low <= -fall && -fall <= high) held += 1
    }
    return held / 1_000
  })
  console.info(
    `limits of 95 % held the true fall with 5, 8, 14 and 21 days in ${shares.join(', ')} of the runs`,
  )
  for (const share of shares) expect(share).toBeGreaterThan(0.93)
})
