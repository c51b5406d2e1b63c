/** How sharp an animal is in a picture: of photos of one visit the least blurred is shown first. */
import type { Box } from '../../services/words.ts'
import { CHANNELS, type Pixels } from './pixels.ts'

/** Of a part smaller than this nobody can say whether it is sharp, so its surroundings are taken in. */
const LEAST_SIDE_PX = 16
/** Rows that are looked at in a large part: enough for a variance, and a millisecond at most. */
const MOST_ROWS = 120

/**
 * The variance of the Laplacian of the green channel within `box` (pixels of the picture): the more edges are sharp, the
 * higher; 0 for an even surface (Pech-Pacheco, Cristóbal, Chamorro-Martínez & Fernández-Valdivia 2000, Diatom autofocusing
 * in brightfield microscopy: a comparative study, doi:10.1109/ICPR.2000.903548). It has no unit of its own: only
 * pictures of one camera and one light can be set against each other.
 */
export function sharpnessOf({ data, width, height }: Pixels, box: Box): number {
  const [left, right] = span(box[0], box[2], width)
  const [top, bottom] = span(box[1], box[3], height)
  const step = Math.max(1, Math.ceil((bottom - top) / MOST_ROWS))
  const row = width * CHANNELS
  let count = 0
  let sum = 0
  let squares = 0
  for (let y = top; y < bottom; y += step) {
    let at = (y * width + left) * CHANNELS + 1
    for (let x = left; x < right; x++, at += CHANNELS) {
      const edge =
        4 * data[at]! - data[at - CHANNELS]! - data[at + CHANNELS]! - data[at - row]! - data[at + row]!
      count++
      sum += edge
      squares += edge * edge
    }
  }
  if (count === 0) return 0
  const mean = sum / count
  return squares / count - mean * mean
}

/** Whole pixels of a side, with a neighbour on either hand. */
function span(from: number, to: number, most: number): [number, number] {
  const spare = Math.max(0, (LEAST_SIDE_PX - (to - from)) / 2)
  return [Math.max(1, Math.floor(from - spare)), Math.min(most - 1, Math.ceil(to + spare))]
}
