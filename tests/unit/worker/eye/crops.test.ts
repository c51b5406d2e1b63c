import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Box } from '../../../../services/words.ts'
import { cropOf, cutCrop } from '../../../../worker/eye/crops.ts'
import { type Enlarger, openEnlarger } from '../../../../worker/eye/enlarge.ts'

// models/manifest.json, namer, input: side 1.12 x the box's longer side, 224 x 224
const crop = { cropScale: 1.12, sidePx: 224 }
const still = { width: 1280, height: 720 }

let enlarger: Enlarger
beforeAll(async () => {
  enlarger = await openEnlarger()
})
afterAll(() => enlarger.close())

describe('the namer’s crops', () => {
  test('a wide box gets a square about its centre with a little ground round it', () => {
    // 100 x 1.12 = 112; the centre is at 650, 330
    expect(cropOf([600, 300, 700, 360], still, crop)).toEqual({
      from: { left: 594, top: 274, width: 112, height: 112 },
      at: { left: 0, top: 0, width: 224, height: 224 },
    })
  })

  test('a box in the corner keeps its scale: what lies beyond the still is left for black', () => {
    // Side 112, centre 50, 50: from -6 to 106, so 6 of 112 columns are missing: 12 of 224 pixels
    expect(cropOf([0, 0, 100, 100], still, crop)).toEqual({
      from: { left: 0, top: 0, width: 106, height: 106 },
      at: { left: 12, top: 12, width: 212, height: 212 },
    })
  })

  test('every crop lies within the still and within the namer’s input', () => {
    const anyBox = fc
      .tuple(
        fc.double({ min: 0, max: 1279, noNaN: true }),
        fc.double({ min: 0, max: 719, noNaN: true }),
        fc.double({ min: 0, max: 1280, noNaN: true }),
        fc.double({ min: 0, max: 720, noNaN: true }),
      )
      .map(([x, y, w, h]): Box => [x, y, Math.min(x + w, 1280), Math.min(y + h, 720)])
    fc.assert(
      fc.property(anyBox, (box) => {
        const { from, at } = cropOf(box, still, crop)
        expect(Math.min(from.left, from.top, at.left, at.top)).toBeGreaterThanOrEqual(0)
        expect(Math.min(from.width, from.height, at.width, at.height)).toBeGreaterThanOrEqual(1)
        expect(from.left + from.width).toBeLessThanOrEqual(1280)
        expect(from.top + from.height).toBeLessThanOrEqual(720)
        expect(at.left + at.width).toBeLessThanOrEqual(224)
        expect(at.top + at.height).toBeLessThanOrEqual(224)
      }),
    )
  })

  test('beyond the edge is black, within it is the still', async () => {
    const grey = { width: 100, height: 100, data: Buffer.alloc(100 * 100 * 3, 200) }
    // Side 112 about 5, 50: 51 of 112 columns lie beyond the left edge, 102 of 224 pixels
    const bytes = await cutCrop(grey, cropOf([-45, 45, 55, 55], grey, crop), {
      sidePx: 224,
      enlarger,
    })
    expect(bytes.length).toBe(224 * 224 * 3)
    const at = (x: number, y: number) => bytes[(y * 224 + x) * 3]
    expect(at(101, 112)).toBe(0)
    expect(at(102, 112)).toBe(200)
    expect(at(223, 112)).toBe(200)
    expect(at(150, 0)).toBe(0)
  })
})
