/** What a whole picture says of its camera: whether the lens still sees, and whether it still looks where it did. */
import type { WholePicture } from '../../services/words.ts'
import { CHANNELS, type Pixels } from './pixels.ts'

/** Rows that are looked at: enough for a variance, and half a millisecond. */
const MOST_ROWS = 120
/** The view is told in so many parts across and down. */
export const VIEW_PARTS = 16
export const VIEW_BYTES = (VIEW_PARTS * VIEW_PARTS) / 8

/** Where the picture lies on what the detector is shown, in pixels: what is round it is black. */
export interface PicturePlace {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/**
 * Contrast is the standard deviation of brightness over its range (RMS contrast: Peli 1990, Contrast in complex images,
 * Journal of the Optical Society of America A 7:2032-2040, doi:10.1364/JOSAA.7.002032). Detail is the variance of the
 * Laplacian (Pech-Pacheco et al. 2000, doi:10.1109/ICPR.2000.903548). The view keeps of 17 x 16 parts which of two
 * neighbours is brighter, because that holds whatever the light does to both (the census transform: Zabih & Woodfill 1994,
 * doi:10.1007/BFb0028345). All of the green channel.
 */
export function wholePicture({ data, width }: Pixels, place: PicturePlace): WholePicture {
  // Where each part across begins, and where the last ends; the first and the last pixel of a row have no neighbour.
  const edges = Array.from({ length: VIEW_PARTS + 2 }, (_, part) =>
    Math.min(place.width - 1, Math.max(1, Math.ceil((part * place.width) / (VIEW_PARTS + 1)))),
  )
  const sums = new Float64Array((VIEW_PARTS + 1) * VIEW_PARTS)
  const counts = new Float64Array(sums.length)
  const step = Math.max(1, Math.ceil((place.height - 2) / MOST_ROWS))
  const row = width * CHANNELS
  let [count, sum, squares, edgeSum, edgeSquares] = [0, 0, 0, 0, 0]
  for (let y = 1; y < place.height - 1; y += step) {
    const parts = Math.floor((y * VIEW_PARTS) / place.height) * (VIEW_PARTS + 1)
    const start = ((place.top + y) * width + place.left) * CHANNELS + 1
    for (let part = 0; part <= VIEW_PARTS; part++) {
      let partSum = 0
      const end = start + edges[part + 1]! * CHANNELS
      for (let at = start + edges[part]! * CHANNELS; at < end; at += CHANNELS) {
        const value = data[at]!
        const edge =
          4 * value - data[at - CHANNELS]! - data[at + CHANNELS]! - data[at - row]! - data[at + row]!
        partSum += value
        squares += value * value
        edgeSum += edge
        edgeSquares += edge * edge
      }
      const pixels = edges[part + 1]! - edges[part]!
      count += pixels
      sum += partSum
      sums[parts + part] = sums[parts + part]! + partSum
      counts[parts + part] = counts[parts + part]! + pixels
    }
  }
  if (count === 0) return { contrast: 0, detail: 0, view: new Uint8Array(VIEW_BYTES) }
  const mean = sum / count
  const edgeMean = edgeSum / count
  return {
    contrast: Math.sqrt(Math.max(0, squares / count - mean * mean)) / 255,
    detail: edgeSquares / count - edgeMean * edgeMean,
    view: viewOf(sums, counts),
  }
}

function viewOf(sums: Float64Array, counts: Float64Array): Uint8Array {
  const view = new Uint8Array(VIEW_BYTES)
  const meanOf = (part: number) => sums[part]! / Math.max(1, counts[part]!)
  for (let bit = 0; bit < VIEW_PARTS * VIEW_PARTS; bit++) {
    const part = Math.floor(bit / VIEW_PARTS) * (VIEW_PARTS + 1) + (bit % VIEW_PARTS)
    if (meanOf(part + 1) > meanOf(part)) view[bit >> 3] = view[bit >> 3]! | (1 << (bit & 7))
  }
  return view
}
