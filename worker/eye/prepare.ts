/** From bytes to pixels: what can be read, how it is decoded, and the picture the detector is shown. */
import sharp, { type Sharp } from 'sharp'
import { formatReason } from './formats.ts'
import type { Letterbox, Size } from './letterbox.ts'

/** RGB, 8 bits, row by row from the top left, upright. */
export interface Pixels extends Size {
  readonly data: Buffer
}

/** A still that cannot be read, in words for the person who owns the camera. */
export class Unreadable extends Error {}

export const MAX_STILL_MEGAPIXELS = 100
const MAX_STILL_PX = MAX_STILL_MEGAPIXELS * 1e6

// Each still is seen once: libvips' cache of past operations would only hold memory.
sharp.cache(false)
// Stills in flight use the cores; threads inside one still would only take turns with them.
sharp.concurrency(1)

/**
 * `error` refuses truncated and broken pictures but lets pass what cheap cameras often write
 * (stray bytes between JPEG markers, broken EXIF), which `warning` would refuse.
 * Of an animation only the first frame is read.
 */
const OPEN = { failOn: 'error', limitInputPixels: MAX_STILL_PX, pages: 1 } as const

/**
 * The upright size of a still, from its header alone: nothing is decoded before its size is known.
 * @throws Unreadable
 */
export async function measure(bytes: Buffer): Promise<Size> {
  const reason = formatReason(bytes)
  if (reason) throw new Unreadable(reason)
  const header = await sharp(bytes, { ...OPEN, limitInputPixels: false })
    .metadata()
    .catch((error: unknown) => {
      throw new Unreadable(decodeReason(error))
    })
  const { width, height } = header.autoOrient
  if (width * height > MAX_STILL_PX)
    throw new Unreadable(
      `The photo is ${width} x ${height} pixels; at most ${MAX_STILL_MEGAPIXELS} megapixels can be read.`,
    )
  return { width, height }
}

function upright(bytes: Buffer): Sharp {
  return sharp(bytes, OPEN).autoOrient().removeAlpha().toColourspace('srgb')
}

/** Decodes a still in full. @throws Unreadable */
export async function decode(bytes: Buffer): Promise<Pixels> {
  return pixelsOf(upright(bytes))
}

/**
 * The detector's input from a decoded still.
 * @returns RGB bytes of the size of the detector's input
 */
export async function reduce(still: Pixels, place: Letterbox): Promise<Buffer> {
  const { width, height } = still
  return (await pixelsOf(inPlace(sharp(still.data, { raw: { width, height, channels: 3 } }), place))).data
}

/**
 * The detector's input straight from the bytes: JPEG and WebP are reduced while they are decoded.
 * @throws Unreadable
 */
export async function reduceFromBytes(bytes: Buffer, place: Letterbox): Promise<Buffer> {
  return (await pixelsOf(inPlace(upright(bytes), place))).data
}

function inPlace(picture: Sharp, place: Letterbox): Sharp {
  const { left, top, right, bottom } = place
  return picture
    .resize(place.width, place.height, { fit: 'fill', kernel: 'linear' })
    .extend({ left, top, right, bottom, background: 'black' })
}

async function pixelsOf(picture: Sharp): Promise<Pixels> {
  const { data, info } = await picture
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true })
    .catch((error: unknown) => {
      throw new Unreadable(decodeReason(error))
    })
  if (info.channels !== 3) throw new Error(`expected 3 channels from the decoder, got ${info.channels}`)
  return { data, width: info.width, height: info.height }
}

/** The decoder's own words follow in brackets: they help whoever looks after the cameras. */
function decodeReason(error: unknown): string {
  const words = (error instanceof Error ? error.message : String(error)).trim().split('\n')[0] ?? ''
  return `The photo is damaged or cut short, so it cannot be opened (${words}).`
}
