import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { letterbox, toInput, toStill } from '../../../../worker/eye/letterbox.ts'

const input = { width: 640, height: 384 }
const anyStill = fc.record({
  width: fc.integer({ min: 1, max: 12_000 }),
  height: fc.integer({ min: 1, max: 12_000 }),
})

describe('the still in the detector’s input', () => {
  test('a 1280 x 720 still is halved and centred, with 12 black rows above and below', () => {
    // 720 / 2 = 360; (384 - 360) / 2 = 12
    expect(letterbox({ width: 1280, height: 720 }, input)).toMatchObject({
      width: 640,
      height: 360,
      left: 0,
      top: 12,
    })
  })

  test('an upright still has black at its sides', () => {
    // 384 / 1600 = 0.24; 1200 x 0.24 = 288; (640 - 288) / 2 = 176
    expect(letterbox({ width: 1200, height: 1600 }, input)).toMatchObject({
      width: 288,
      height: 384,
      left: 176,
      top: 0,
    })
  })

  test('a box found at the input’s middle lies at the still’s middle', () => {
    const place = letterbox({ width: 1280, height: 720 }, input)
    expect(toStill([310, 182, 330, 202], place)).toEqual([620, 340, 660, 380])
  })

  test('a box that reaches into the black is cut at the still’s edge', () => {
    const place = letterbox({ width: 1280, height: 720 }, input)
    expect(toStill([-5, 0, 700, 384], place)).toEqual([0, 0, 1280, 720])
  })

  test('any still fits, touches two sides, and keeps its shape to within a pixel', () => {
    fc.assert(
      fc.property(anyStill, (still) => {
        const place = letterbox(still, input)
        expect(place.left + place.width).toBeLessThanOrEqual(640)
        expect(place.top + place.height).toBeLessThanOrEqual(384)
        expect(place.width === 640 || place.height === 384).toBe(true)
        const scale = Math.min(640 / still.width, 384 / still.height)
        expect(Math.abs(place.width - still.width * scale)).toBeLessThanOrEqual(1)
        expect(Math.abs(place.height - still.height * scale)).toBeLessThanOrEqual(1)
      }),
    )
  })

  test('there and back again gives the same box', () => {
    const part = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(anyStill, fc.tuple(part, part, part, part), (still, [a, b, c, d]) => {
        const place = letterbox(still, input)
        const box = [a * still.width, b * still.height, c * still.width, d * still.height] as const
        const back = toStill(toInput(box, place), place)
        for (const [i, edge] of box.entries()) expect(back[i]).toBeCloseTo(edge, 6)
      }),
    )
  })
})
