import { afterAll, beforeAll, expect, test } from 'vitest'
import { type Enlarger, openEnlarger } from '../../../../worker/eye/enlarge.ts'

let enlarger: Enlarger
beforeAll(async () => {
  enlarger = await openEnlarger()
})
afterAll(() => enlarger.close())

/** Keys 1981, equation 4, a = -0.5. */
function weight(distance: number): number {
  const x = Math.abs(distance)
  if (x < 1) return 1.5 * x ** 3 - 2.5 * x ** 2 + 1
  if (x < 2) return -0.5 * x ** 3 + 2.5 * x ** 2 - 4 * x + 2
  return 0
}

/** One row of one channel by the definition: pixel centres, weights that sum to 1 over the pixels there are. */
function byDefinition(row: readonly number[], width: number): number[] {
  return Array.from({ length: width }, (_, at) => {
    const centre = ((at + 0.5) * row.length) / width - 0.5
    const weights = row.map((_value, i) => weight(i - centre))
    const sum = weights.reduce((a, b) => a + b)
    const value = row.reduce((total, one, i) => total + one * (weights[i] ?? 0), 0) / sum
    return Math.min(255, Math.max(0, value))
  })
}

test('is cubic convolution, in each direction and each channel on its own', async () => {
  const red = [0, 40, 255, 10, 90]
  const picture = {
    width: 5,
    height: 2,
    data: Uint8Array.from([...red, ...red].flatMap((value, i) => [value, 128, i < 5 ? 30 : 60])),
  }
  const enlarged = await enlarger.enlarge(picture, { width: 13, height: 5 })
  expect(enlarged.length).toBe(13 * 5 * 3)
  const expected = byDefinition(red, 13)
  const down = byDefinition([30, 60], 5)
  for (let y = 0; y < 5; y++)
    for (let x = 0; x < 13; x++) {
      const [r = -1, g = -1, b = -1] = enlarged.subarray((y * 13 + x) * 3)
      // Each of the two passes rounds: half a step each, and its whole-number weights.
      expect(Math.abs(r - (expected[x] ?? 0))).toBeLessThan(1.5)
      expect(g).toBe(128)
      expect(Math.abs(b - (down[y] ?? 0))).toBeLessThan(1.5)
    }
})

test('a picture of one pixel is that colour all over', async () => {
  const enlarged = await enlarger.enlarge(
    { width: 1, height: 1, data: Uint8Array.of(7, 100, 255) },
    { width: 4, height: 3 },
  )
  expect([...enlarged]).toEqual(Array.from({ length: 12 }, () => [7, 100, 255]).flat())
})
