import fc from 'fast-check'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { letterbox } from '../../../../worker/eye/letterbox.ts'
import { CHANNELS, type Pixels } from '../../../../worker/eye/pixels.ts'
import { reduceByArea, timesSmaller } from '../../../../worker/eye/reduce-by-area.ts'

const noise = (seed: number, width: number, height: number): Pixels => {
  let state = seed
  const data = Uint8Array.from({ length: width * height * CHANNELS }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state >>> 24
  })
  return { data, width, height }
}

describe('reducing by a whole number', () => {
  test('each pixel is the mean of those it covers, and what is round the picture is black', () => {
    const sides = fc.integer({ min: 1, max: 12 })
    const edges = fc.integer({ min: 0, max: 3 })
    fc.assert(
      fc.property(
        fc.constantFrom(2 as const, 3 as const),
        sides,
        sides,
        edges,
        edges,
        fc.nat(),
        (times, width, height, left, top, seed) => {
          const still = noise(seed, width * times, height * times)
          const whole = { width: width + 2 * left, height: height + 2 * top, left, top }
          const reduced = reduceByArea(still, times, whole)
          expect(reduced.length).toBe(whole.width * whole.height * CHANNELS)
          for (let y = 0; y < whole.height; y++)
            for (let x = 0; x < whole.width; x++)
              for (let channel = 0; channel < CHANNELS; channel++) {
                const found = reduced[(y * whole.width + x) * CHANNELS + channel]
                const inside = x >= left && x < left + width && y >= top && y < top + height
                const mean = inside ? meanOf(still, { x: x - left, y: y - top, channel, times }) : 0
                expect(found).toBe(Math.floor(mean + 0.5))
              }
        },
      ),
      { numRuns: 60 },
    )
  })

  test('shows a picture as the picture library’s smooth reduction does', async () => {
    // Low frequencies alone: what a box and a triangle weigh differently is not in it.
    const soft = await sharp(Buffer.from(noise(7, 24, 16).data), {
      raw: { width: 24, height: 16, channels: CHANNELS },
    })
      .resize(240, 160, { fit: 'fill', kernel: 'cubic' })
      .raw()
      .toBuffer()
    const library = await sharp(soft, { raw: { width: 240, height: 160, channels: CHANNELS } })
      .resize(120, 80, { fit: 'fill', kernel: 'linear' })
      .raw()
      .toBuffer()
    const reduced = reduceByArea({ data: soft, width: 240, height: 160 }, 2, {
      width: 120,
      height: 80,
      left: 0,
      top: 0,
    })
    const off = reduced.map((value, i) => Math.abs(value - library[i]!))
    expect(off.reduce((sum, one) => sum + one, 0) / off.length).toBeLessThan(1)
    expect(Math.max(...off)).toBeLessThan(8)
  })

  test.each([
    [1280, 720, 2],
    [1920, 1080, 3],
    [640, 360, null],
    [2560, 1440, null],
    [1600, 1200, null],
    [1282, 720, null],
  ])('a photo of %i x %i is reduced by %s', (width, height, times) => {
    const still = { width, height }
    expect(timesSmaller(still, letterbox(still, { width: 640, height: 384 }))).toBe(times)
  })
})

function meanOf(
  { data, width }: Pixels,
  {
    x,
    y,
    channel,
    times,
  }: { readonly x: number; readonly y: number; readonly channel: number; readonly times: number },
): number {
  let sum = 0
  for (let row = y * times; row < (y + 1) * times; row++)
    for (let column = x * times; column < (x + 1) * times; column++)
      sum += data[(row * width + column) * CHANNELS + channel]!
  return sum / (times * times)
}
