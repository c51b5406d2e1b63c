import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { BoxOnStill } from '../../../services/http/shapes.ts'
import { SPECIES } from '../../../services/words.ts'
import { placeLabels } from '../../../web/parts/box-labels.ts'

const FRAME = { width: 1280, height: 720 }
const SHOWN_PX = 360

const camel = (box: BoxOnStill['box'], counted = true): BoxOnStill => ({
  species: 'camel',
  score: 0.9,
  box,
  counted,
})

describe('species’ names on a photo', () => {
  test('a label stands at its box; an unsure box has a question mark', () => {
    const [label] = placeLabels([camel([640, 360, 800, 500], false)], FRAME, SHOWN_PX)
    expect(label?.words).toBe('camel?')
    expect(label?.leftPercent).toBeCloseTo(50, 6)
    expect(label?.topPercent).toBeLessThan(50)
  })

  test('a mob too close for a name each shares a few; every box far from the others has its own', () => {
    const mob = Array.from({ length: 8 }, (_, at) => camel([600 + at * 6, 300, 640 + at * 6, 340]))
    const alone = camel([100, 600, 200, 700])
    const labels = placeLabels([...mob, alone], FRAME, SHOWN_PX)
    expect(labels.length).toBeLessThan(mob.length)
    expect(labels.some(({ leftPercent }) => leftPercent < 10)).toBe(true)
  })

  const boxes = fc.array(
    fc
      .record({
        species: fc.constantFrom(...SPECIES),
        score: fc.double({ min: 0, max: 1, noNaN: true }),
        counted: fc.boolean(),
        x: fc.integer({ min: 0, max: 1270 }),
        y: fc.integer({ min: 0, max: 710 }),
        width: fc.integer({ min: 1, max: 1280 }),
        height: fc.integer({ min: 1, max: 720 }),
      })
      .map(
        ({ species, score, counted, x, y, width, height }): BoxOnStill => ({
          species,
          score,
          counted,
          box: [x, y, Math.min(1280, x + width), Math.min(720, y + height)],
        }),
      ),
    { maxLength: 20 },
  )

  test('no label leaves the photo, and no species found goes without a name', () => {
    fc.assert(
      fc.property(boxes, (found) => {
        const labels = placeLabels(found, FRAME, SHOWN_PX)
        for (const { leftPercent, topPercent } of labels) {
          expect(leftPercent).toBeGreaterThanOrEqual(0)
          expect(leftPercent).toBeLessThan(100)
          expect(topPercent).toBeGreaterThanOrEqual(0)
          expect(topPercent).toBeLessThan(100)
        }
        expect(new Set(labels.map(({ species }) => species))).toEqual(
          new Set(found.map(({ species }) => species)),
        )
      }),
    )
  })
})
