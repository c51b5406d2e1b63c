import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Box } from '../../../../services/words.ts'
import { letterbox } from '../../../../worker/eye/letterbox.ts'
import {
  isCut,
  MAX_TILES,
  OVERLAP_PX,
  onWholeStill,
  type Tile,
  tilesOf,
} from '../../../../worker/eye/tiles.ts'

// models/manifest.json, detector, input
const input = { width: 640, height: 384 }

/** Up to 100 megapixels, the most that is read; strips among them. */
const anyStill = fc
  .record({ width: fc.integer({ min: 1, max: 20_000 }), height: fc.integer({ min: 1, max: 20_000 }) })
  .filter(({ width, height }) => width * height <= 100e6)
const largeStill = anyStill.filter(({ width, height }) => Math.max(width, height) > 2000)

const holds = (tile: Tile, [x0, y0, x1, y1]: Box) =>
  tile.left <= x0 && tile.top <= y0 && tile.left + tile.width >= x1 && tile.top + tile.height >= y1

describe('the tiles of a still', () => {
  test('a still of up to 2,000 pixels has none: it is seen well enough whole', () => {
    expect(tilesOf({ width: 1280, height: 720 }, input)).toEqual([])
    expect(tilesOf({ width: 2000, height: 1500 }, input)).toEqual([])
  })

  test('a still of twelve megapixels is seen in tiles of about 1,280 pixels, of the detector’s shape', () => {
    const tiles = tilesOf({ width: 4000, height: 3000 }, input)
    expect(tiles.length).toBeGreaterThan(1)
    for (const { width, height } of tiles) {
      expect(width).toBeGreaterThanOrEqual(1280)
      expect(width).toBeLessThan(1.1 * 1280)
      expect(width / height).toBeCloseTo(640 / 384, 2)
    }
  })

  test('one of a hundred megapixels has no more tiles than any other', () => {
    const tiles = tilesOf({ width: 11_547, height: 8_660 }, input)
    expect(tiles.length).toBeGreaterThan(1)
    expect(tiles.length).toBeLessThanOrEqual(MAX_TILES)
  })

  test('are at most so many, within the still, and of one size', () => {
    fc.assert(
      fc.property(anyStill, (still) => {
        const tiles = tilesOf(still, input)
        expect(tiles.length).toBeLessThanOrEqual(MAX_TILES)
        for (const { left, top, width, height } of tiles) {
          expect([left, top, width, height].every(Number.isInteger)).toBe(true)
          expect(left >= 0 && top >= 0 && left + width <= still.width && top + height <= still.height).toBe(
            true,
          )
          expect([width, height]).toEqual([tiles[0]?.width, tiles[0]?.height])
        }
      }),
    )
  })

  test('hold every animal that is no larger than the overlap whole in one of them, wherever it stands', () => {
    fc.assert(
      fc.property(
        largeStill,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (still, x, y) => {
          const tiles = tilesOf(still, input)
          fc.pre(tiles.length > 0)
          const place = letterbox(still, input)
          const width = Math.min(still.width, (OVERLAP_PX.across * still.width) / place.width)
          const height = Math.min(still.height, (OVERLAP_PX.down * still.height) / place.height)
          const [left, top] = [x * (still.width - width), y * (still.height - height)]
          const animal: Box = [left, top, left + width, top + height]
          expect(tiles.some((tile) => holds(tile, animal))).toBe(true)
        },
      ),
    )
  })

  test('together are the whole still', () => {
    fc.assert(
      fc.property(
        largeStill,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (still, x, y) => {
          const tiles = tilesOf(still, input)
          fc.pre(tiles.length > 0)
          const [left, top] = [Math.floor(x * (still.width - 1)), Math.floor(y * (still.height - 1))]
          expect(tiles.some((tile) => holds(tile, [left, top, left + 1, top + 1]))).toBe(true)
        },
      ),
    )
  })
})

describe('an animal that a tile cuts', () => {
  const still = { width: 4000, height: 3000 }
  const inner: Tile = { left: 1000, top: 1000, width: 1280, height: 768 }
  const corner: Tile = { left: 0, top: 0, width: 1280, height: 768 }

  test('ends at an edge of the tile where the still goes on', () => {
    expect(isCut([1000, 1200, 1100, 1300], inner, { still, input })).toBe(true)
    expect(isCut([1500, 1700, 1600, 1768], inner, { still, input })).toBe(true)
    expect(isCut([1500, 1200, 1600, 1300], inner, { still, input })).toBe(false)
  })

  test('is not one that ends at the edge of the still', () => {
    expect(isCut([0, 0, 100, 100], corner, { still, input })).toBe(false)
    expect(isCut([0, 700, 100, 768], corner, { still, input })).toBe(true)
  })

  test('a box of a tile is moved to where the tile lies in the still', () => {
    expect(onWholeStill([10, 20, 30, 40], inner)).toEqual([1010, 1020, 1030, 1040])
  })
})
