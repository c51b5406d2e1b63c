/** How much a fixed camera's picture differs from another of its own. */
import sharp from 'sharp'

/** Small enough that leaves and noise drown, large enough that a beast at the trough fills some cells. */
const GREY_WIDTH = 64
const GREY_HEIGHT = 36
export const GREY_CELLS = GREY_WIDTH * GREY_HEIGHT
/** Of 256 levels of grey: over the noise of a dim picture (tests/unit/sources/picture-change.test.ts tries it). */
const CHANGED_LEVELS = 10
/** A camera turns its exposure up or down by less between two pictures, or the light itself is another. */
const MOST_GAIN = 2

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
 * The share of cells, in per cent, that differ clearly once the whole picture's change of light is taken off: both pictures
 * are brought to one middle and one spread (median, and the 10th to the 90th percentile), which few cells cannot move.
 * @param before, after as `greyOf` gives them
 */
export function changedPercent(before: Uint8Array, after: Uint8Array): number {
  const [was, is] = [lightOf(before), lightOf(after)]
  const gain =
    was.spread === 0 || is.spread === 0
      ? 1
      : Math.min(MOST_GAIN, Math.max(1 / MOST_GAIN, is.spread / was.spread))
  let changed = 0
  for (const [i, level] of after.entries()) {
    const expected = is.middle + gain * (before[i]! - was.middle)
    if (Math.abs(level - expected) > CHANGED_LEVELS) changed += 1
  }
  return (100 * changed) / after.length
}

function lightOf(grey: Uint8Array): { readonly middle: number; readonly spread: number } {
  const levels = grey.toSorted()
  const at = (share: number) => levels[Math.floor(share * (levels.length - 1))]!
  return { middle: at(0.5), spread: at(0.9) - at(0.1) }
}
