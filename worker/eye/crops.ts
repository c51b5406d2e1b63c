/** What the namer is shown of each box: a square about its centre, from the full-size still. */
import type { Sharp } from 'sharp'
import type { Box } from '../../services/words.ts'
import type { Enlarger } from './enlarge.ts'
import type { Size } from './letterbox.ts'
import { onBlack, type Pixels, partOf } from './pixels.ts'
import { over, pixelsOf } from './prepare.ts'

/** A crop in whole pixels: the part of the still it shows, and where that part lies in the namer's square. */
export interface Crop {
  readonly from: { readonly left: number; readonly top: number } & Size
  readonly at: { readonly left: number; readonly top: number } & Size
}

export interface CropSize {
  /** The square's side over the box's longer side. */
  readonly cropScale: number
  /** The namer's input, pixels. */
  readonly sidePx: number
}

const COPIED_UP_TO_PX = 2_100_000

/** Lays the square about a box's centre over the still; what lies beyond the still's edge stays black. */
export function cropOf([x0, y0, x1, y1]: Box, still: Size, { cropScale, sidePx }: CropSize): Crop {
  const side = Math.max(2, Math.round(cropScale * Math.max(x1 - x0, y1 - y0)))
  const along = (centre: number, length: number) => {
    const start = Math.round(centre - side / 2)
    const from = Math.min(Math.max(start, 0), length - 1)
    const to = Math.max(Math.min(start + side, length), from + 1)
    const at = Math.min(Math.round(((from - start) * sidePx) / side), sidePx - 1)
    const end = Math.min(Math.round(((to - start) * sidePx) / side), sidePx)
    return { from, length: to - from, at, size: Math.max(end - at, 1) }
  }
  const x = along((x0 + x1) / 2, still.width)
  const y = along((y0 + y1) / 2, still.height)
  return {
    from: { left: x.from, top: y.from, width: x.length, height: y.length },
    at: { left: x.at, top: y.at, width: x.size, height: y.size },
  }
}

/**
 * Cuts one crop out of the decoded still: `sidePx` x `sidePx` x RGB bytes. Both ways are bicubic; the picture library
 * reduces faster than the enlarger.
 */
export async function cutCrop(
  still: Pixels,
  { from, at }: Crop,
  { sidePx, enlarger }: { readonly sidePx: number; readonly enlarger: Enlarger },
): Promise<Uint8Array> {
  const { width, height } = at
  const reduces = from.width > width || from.height > height
  const data = reduces
    ? (await pixelsOf(partToReduce(still, from).resize(width, height, { fit: 'fill', kernel: 'cubic' }))).data
    : await enlarger.enlarge(partOf(still, from), { width, height })
  return onBlack({ data, width, height }, { width: sidePx, height: sidePx }, at)
}

/** Copied where that is cheap; an animal that fills a still of 100 megapixels would cost 300 MB more. */
function partToReduce(still: Pixels, from: Crop['from']): Sharp {
  return from.width * from.height > COPIED_UP_TO_PX ? over(still).extract(from) : over(partOf(still, from))
}
