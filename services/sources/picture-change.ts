/** How much a fixed camera's picture differs from another of its own. */
import sharp from 'sharp'

/** Small enough that leaves and noise drown, large enough that a beast at the trough fills some cells. */
export const GREY_WIDTH = 64
export const GREY_HEIGHT = 36
export const GREY_CELLS = GREY_WIDTH * GREY_HEIGHT
/** Of 256 levels of grey: over the noise of a dim picture (tests/unit/sources/picture-change.test.ts tries it). */
const CHANGED_LEVELS = 14

/** The picture as so many cells of grey, row by row. @throws Error where it cannot be decoded */
export async function greyOf(bytes: Buffer): Promise<Buffer> {
  return await sharp(bytes, { failOn: 'error', pages: 1 })
    .autoOrient()
    .flatten()
    .greyscale()
    .resize(GREY_WIDTH, GREY_HEIGHT, { fit: 'fill', kernel: 'linear' })
    .raw()
    .toBuffer()
}

/**
 * The share of cells, in per cent, that differ clearly, once the whole picture's change of light is taken off: the median
 * difference, which a few cells cannot move.
 * @param before, after as `greyOf` gives them
 */
export function changedPercent(before: Uint8Array, after: Uint8Array): number {
  const differences = Array.from(after, (level, i) => level - before[i]!)
  const light = differences.toSorted((a, b) => a - b)[Math.floor(differences.length / 2)]!
  const changed = differences.filter((difference) => Math.abs(difference - light) > CHANGED_LEVELS)
  return (100 * changed.length) / differences.length
}
