/** Measures of a whole picture, by their definitions. */
import { describe, expect, it } from 'vitest'
import { VIEW_BYTES, wholePicture } from '../../../../worker/eye/whole-picture.ts'

const WIDTH = 170
const HEIGHT = 96

/** A grey picture of `shade(x, y)` that lies `left` and `top` within a black one. */
function picture(shade: (x: number, y: number) => number, { left = 0, top = 0 } = {}) {
  const width = WIDTH + 2 * left
  const data = new Uint8Array(width * (HEIGHT + 2 * top) * 3)
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++)
      data.fill(shade(x, y), ((y + top) * width + x + left) * 3, ((y + top) * width + x + left) * 3 + 3)
  return wholePicture({ data, width, height: HEIGHT + 2 * top }, { left, top, width: WIDTH, height: HEIGHT })
}
const bitsOf = (view: Uint8Array) =>
  [...view].flatMap((byte) => Array.from({ length: 8 }, (_, i) => (byte >> i) & 1))

describe('the whole picture', () => {
  it('of one shade has no contrast and no detail', () => {
    expect(picture(() => 90)).toEqual({ contrast: 0, detail: 0, view: new Uint8Array(VIEW_BYTES) })
  })

  it('half black and half white has a contrast of a half (Peli 1990: the standard deviation of brightness)', () => {
    // Of 168 columns that have neighbours on both hands 84 are white.
    expect(picture((x) => (x < WIDTH / 2 ? 0 : 255)).contrast).toBeCloseTo(0.5, 9)
  })

  it('of lines one pixel wide has the detail of its Laplacian: 2 x 100 up or down from line to line', () => {
    // 4 x value less its neighbours: -200 on black, 200 on white; variance 40,000 (Pech-Pacheco et al. 2000).
    expect(picture((x) => (x % 2) * 100).detail).toBeCloseTo(40_000, 9)
  })

  it('that gets brighter to the right has each bit set, and one that gets darker none (census transform)', () => {
    expect(bitsOf(picture((x) => x).view)).toEqual(Array(256).fill(1))
    expect(bitsOf(picture((x) => 255 - x).view)).toEqual(Array(256).fill(0))
  })

  it('keeps its view whatever the light does to all of it', () => {
    const shade = (x: number, y: number) => 60 + 30 * Math.sin(x / 7 + y / 9)
    const { view } = picture(shade)
    expect(picture((x, y) => shade(x, y) * 2 + 20).view).toEqual(view)
  })

  it('is measured within a letterbox, whose black has no say', () => {
    const shade = (x: number, y: number) => (x * 7 + y * 13) % 251
    expect(picture(shade, { left: 20, top: 8 })).toEqual(picture(shade))
  })
})
