import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Box } from '../../../../services/words.ts'
import { intersectionOverUnion, oneBoxAnAnimal, shareOfSmaller } from '../../../../worker/eye/suppress.ts'

// models/manifest.json, pooling, one_box_an_animal
const limits = { overlapLimit: 0.5, insideLimit: 0.85 }
const one = (box: Box, p: number) => ({ box, p })

const anyBox = fc
  .tuple(fc.integer({ min: 0, max: 600 }), fc.integer({ min: 0, max: 350 }), fc.integer({ min: 1, max: 90 }))
  .map(([x, y, side]): Box => [x, y, x + side, y + side])
const anyFound = fc.array(fc.record({ box: anyBox, p: fc.double({ min: 0.12, max: 1, noNaN: true }) }), {
  maxLength: 20,
})

describe('one box an animal', () => {
  test('the surer of two boxes on one animal is kept, whatever their order', () => {
    // Overlap 90 x 100 of a union of 110 x 100: 0.818
    const sure = one([0, 0, 100, 100], 0.9)
    const doubtful = one([10, 0, 110, 100], 0.4)
    expect(oneBoxAnAnimal([doubtful, sure], limits)).toEqual([sure])
  })

  test('two animals side by side that hide a third of each other are two', () => {
    // Overlap 50 x 100 of a union of 150 x 100: 0.333
    const pair = [one([0, 0, 100, 100], 0.9), one([50, 0, 150, 100], 0.8)]
    expect(oneBoxAnAnimal(pair, limits)).toEqual(pair)
  })

  test('a head inside its animal is no animal of its own, though the overlap is small', () => {
    const animal = one([0, 0, 200, 200], 0.9)
    const head = one([150, 10, 190, 50], 0.5)
    expect(intersectionOverUnion(animal.box, head.box)).toBeCloseTo(1600 / 40000, 12)
    expect(shareOfSmaller(animal.box, head.box)).toBe(1)
    expect(oneBoxAnAnimal([animal, head], limits)).toEqual([animal])
  })

  test('a box that was dropped drops no other', () => {
    const best = one([0, 0, 100, 100], 0.9)
    const middle = one([30, 0, 130, 100], 0.8)
    const far = one([60, 0, 160, 100], 0.7)
    // best and middle: 70/130 = 0.538; best and far: 40/160 = 0.25
    expect(oneBoxAnAnimal([best, middle, far], limits)).toEqual([best, far])
  })

  test('no two kept boxes overlap beyond the limits, and every dropped one lies on a surer kept one', () => {
    fc.assert(
      fc.property(anyFound, (found) => {
        const kept = oneBoxAnAnimal(found, limits)
        const clash = (a: Box, b: Box) => intersectionOverUnion(a, b) > 0.5 || shareOfSmaller(a, b) > 0.85
        for (const [i, a] of kept.entries())
          for (const b of kept.slice(i + 1)) expect(clash(a.box, b.box)).toBe(false)
        for (const lost of found.filter((f) => !kept.includes(f)))
          expect(kept.some((k) => k.p >= lost.p && clash(k.box, lost.box))).toBe(true)
      }),
    )
  })

  test('boxes without an area overlap nothing', () => {
    expect(intersectionOverUnion([5, 5, 5, 9], [5, 5, 5, 9])).toBe(0)
    expect(shareOfSmaller([5, 5, 5, 9], [0, 0, 10, 10])).toBe(0)
  })
})
