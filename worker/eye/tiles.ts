/** Large stills in parts: where the detector looks a second time, closer. */
import type { Box } from '../../services/words.ts'
import { letterbox, type Size } from './letterbox.ts'

/** A part of the still, in whole pixels of it. */
export interface Tile extends Size {
  readonly left: number
  readonly top: number
}

/** Stills up to this size on their longer side lose little in the detector's input. */
const TILED_OVER_PX = 2_000
/**
 * How many pixels of the still one of the detector's input shows in a tile, at least: 2, so that a tile is what a still
 * of 1,280 pixels is, of which the figures of models/CARD.md speak.
 */
const TILE_SCALE = 2
const TILE_SCALE_STEP = 1.02
/** The cost of a still: a run of the detector each. A still too large for so many gets larger tiles. */
export const MAX_TILES = 24
/**
 * How far two tiles overlap, in pixels of the detector's input as it shows the whole still. What the whole still misses
 * must lie whole in one tile: animals under 12 pixels high there (models/CARD.md, limits: 24 in a still of 1,280
 * pixels). Twice that height for safety, and hoofed animals are up to twice as long as high (common practice, no source).
 */
export const OVERLAP_PX = { across: 48, down: 24 } as const
/** The detector draws a cut animal's box to within this much of the tile's edge, pixels of its input. */
const CUT_PX = 2

/**
 * The tiles of a still, row by row: of the detector's aspect, evenly spread, overlapping, together all of it.
 * @returns none for a still that the detector sees well enough whole
 */
export function tilesOf(still: Size, input: Size): Tile[] {
  if (Math.max(still.width, still.height) <= TILED_OVER_PX) return []
  const place = letterbox(still, input)
  const overlap = {
    across: Math.ceil((OVERLAP_PX.across * still.width) / place.width),
    down: Math.ceil((OVERLAP_PX.down * still.height) / place.height),
  }
  for (let scale = TILE_SCALE; ; scale *= TILE_SCALE_STEP) {
    const width = Math.min(still.width, Math.round(input.width * scale))
    const height = Math.min(still.height, Math.round(input.height * scale))
    const lefts = starts(still.width, width, overlap.across)
    const tops = starts(still.height, height, overlap.down)
    const count = lefts.length * tops.length
    if (count === 1) return []
    if (count > 0 && count <= MAX_TILES)
      return tops.flatMap((top) => lefts.map((left) => ({ left, top, width, height })))
  }
}

/** Where tiles of one length begin along a side; none when they are no longer than their overlap. */
function starts(whole: number, length: number, overlap: number): number[] {
  if (length >= whole) return [0]
  // One less: starts are whole pixels, so two may lie a pixel further apart than their mean.
  const stride = length - overlap - 1
  if (stride <= 0) return []
  const gaps = Math.ceil((whole - length) / stride)
  if (gaps >= MAX_TILES) return []
  return Array.from({ length: gaps + 1 }, (_, i) => Math.round((i * (whole - length)) / gaps))
}

/**
 * True for a box that ends at an edge of its tile where the still goes on. Such a box holds a part of an animal: the
 * whole of it is in the next tile, or it is large enough to be found in the whole still. Two parts of one animal
 * overlap too little for suppression and would be counted as two.
 * @param box in pixels of the still
 */
export function isCut(
  [x0, y0, x1, y1]: Box,
  tile: Tile,
  { still, input }: { still: Size; input: Size },
): boolean {
  const near = (CUT_PX * tile.width) / letterbox(tile, input).width
  const right = tile.left + tile.width
  const bottom = tile.top + tile.height
  return (
    (tile.left > 0 && x0 <= tile.left + near) ||
    (tile.top > 0 && y0 <= tile.top + near) ||
    (right < still.width && x1 >= right - near) ||
    (bottom < still.height && y1 >= bottom - near)
  )
}

/** A box in pixels of its tile, in pixels of the still. */
export function onWholeStill([x0, y0, x1, y1]: Box, { left, top }: Tile): Box {
  return [x0 + left, y0 + top, x1 + left, y1 + top]
}
