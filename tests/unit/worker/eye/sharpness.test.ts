import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { sharpnessOf } from '../../../../worker/eye/sharpness.ts'

const SIDE = 64
const WHOLE = [0, 0, SIDE, SIDE] as const

/** Black and white squares of 8 px, blurred by so many pixels. */
async function board(blurPx: number) {
  const data = Buffer.alloc(SIDE * SIDE * 3)
  for (let y = 0; y < SIDE; y++)
    for (let x = 0; x < SIDE; x++)
      data.fill(((x >> 3) + (y >> 3)) % 2 === 0 ? 255 : 0, (y * SIDE + x) * 3, (y * SIDE + x + 1) * 3)
  const picture = sharp(data, { raw: { width: SIDE, height: SIDE, channels: 3 } })
  const pixels = blurPx === 0 ? picture : picture.blur(blurPx)
  return { data: new Uint8Array(await pixels.raw().toBuffer()), width: SIDE, height: SIDE }
}

describe('how sharp an animal is', () => {
  it('falls with blur', async () => {
    const [sharpOne, soft, softer] = await Promise.all([board(0), board(1), board(3)])
    expect(sharpnessOf(sharpOne, WHOLE)).toBeGreaterThan(2 * sharpnessOf(soft, WHOLE))
    expect(sharpnessOf(soft, WHOLE)).toBeGreaterThan(2 * sharpnessOf(softer, WHOLE))
  })
  it('is none on an even surface', () => {
    const data = new Uint8Array(SIDE * SIDE * 3).fill(90)
    expect(sharpnessOf({ data, width: SIDE, height: SIDE }, WHOLE)).toBe(0)
  })
  it('is that of the box: what is sharp around it counts for nothing', async () => {
    const picture = await board(0)
    for (let y = 20; y < 44; y++) picture.data.fill(90, (y * SIDE + 20) * 3, (y * SIDE + 44) * 3)
    expect(sharpnessOf(picture, [22, 22, 42, 42])).toBe(0)
    expect(sharpnessOf(picture, WHOLE)).toBeGreaterThan(0)
  })
  it('of one edge by the definition: 4 times the middle less its four neighbours, and the variance of that', () => {
    // Left half 0, right half 100: at the edge -100 and 100 in two of 62 columns, else 0; mean 0, variance 2 x 100² / 62.
    const data = new Uint8Array(SIDE * SIDE * 3)
    for (let y = 0; y < SIDE; y++) data.fill(100, (y * SIDE + 32) * 3, (y + 1) * SIDE * 3)
    expect(sharpnessOf({ data, width: SIDE, height: SIDE }, WHOLE)).toBeCloseTo((2 * 100 ** 2) / 62, 8)
  })
  it('of a box at the very edge, or of no width, is a number', async () => {
    const picture = await board(0)
    for (const box of [
      [0, 0, 0, 0],
      [63, 63, 64, 64],
      [-5, -5, 3, 3],
    ] as const)
      expect(sharpnessOf(picture, box)).toBeGreaterThanOrEqual(0)
  })
})
