/** From bytes to pixels: what can be read, how it is decoded, and the picture the detector is shown. */
import sharp, { type Sharp } from 'sharp'
import { MAX_PICTURE_MEGAPIXELS } from '../../services/picture-formats.ts'
import { formatReason } from './formats.ts'
import type { Letterbox, Size } from './letterbox.ts'
import { CHANNELS, onBlack, type Pixels } from './pixels.ts'
import { reduceByArea, timesSmaller } from './reduce-by-area.ts'

/** A still that cannot be read, in words for the person who owns the camera. */
export class Unreadable extends Error {}

const MAX_STILL_PX = MAX_PICTURE_MEGAPIXELS * 1e6

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
      `The photo is ${width} x ${height} pixels; at most ${MAX_PICTURE_MEGAPIXELS} megapixels can be read.`,
    )
  return { width, height }
}

function upright(bytes: Buffer, limitInputPixels = MAX_STILL_PX): Sharp {
  return sharp(bytes, { ...OPEN, limitInputPixels })
    .autoOrient()
    .removeAlpha()
    .toColourspace('srgb')
}

/** Decodes a still in full. @throws Unreadable */
export async function decode(bytes: Buffer): Promise<Pixels> {
  return pixelsOf(upright(bytes))
}

/**
 * Decodes a still in full without asking for its size first, which costs a fifth of it.
 * @returns null, undecoded, where it has more than `mostPx` pixels
 * @throws Unreadable
 */
export async function decodeUpTo(bytes: Buffer, mostPx: number): Promise<Pixels | null> {
  const reason = formatReason(bytes)
  if (reason) throw new Unreadable(reason)
  try {
    return await pixelsOf(upright(bytes, mostPx))
  } catch (error) {
    // The decoder's words (libvips by way of sharp); `measure` then says what the size is.
    if (error instanceof Unreadable && error.message.includes('exceeds pixel limit')) return null
    throw error
  }
}

/** A sharp picture over pixels that are already decoded. */
export function over({ data, width, height }: Pixels): Sharp {
  return sharp(data, { raw: { width, height, channels: CHANNELS } })
}

/**
 * The detector's input from a decoded still.
 * @returns RGB bytes of the size of the detector's input
 */
export async function reduce(still: Pixels, place: Letterbox): Promise<Uint8Array> {
  const times = timesSmaller(still, place)
  if (times === null) return await shown(over(still), place)
  return reduceByArea(still, times, { ...place.input, left: place.left, top: place.top })
}

/**
 * The detector's input straight from the bytes: JPEG and WebP are reduced while they are decoded.
 * @throws Unreadable
 */
export function reduceFromBytes(bytes: Buffer, place: Letterbox): Promise<Uint8Array> {
  return shown(upright(bytes), place)
}

async function shown(picture: Sharp, place: Letterbox): Promise<Uint8Array> {
  const still = picture.resize(place.width, place.height, { fit: 'fill', kernel: 'linear' })
  return onBlack(await pixelsOf(still), place.input, place)
}

/** Runs a picture pipeline. @throws Unreadable */
export async function pixelsOf(picture: Sharp): Promise<Pixels> {
  const { data, info } = await picture
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true })
    .catch((error: unknown) => {
      throw new Unreadable(decodeReason(error))
    })
  if (info.channels !== CHANNELS)
    throw new Error(`expected RGB from the decoder, got ${info.channels} channels`)
  return { data, width: info.width, height: info.height }
}

/** The decoder's own words follow in brackets: they help whoever looks after the cameras. */
function decodeReason(error: unknown): string {
  const words = (error instanceof Error ? error.message : String(error)).trim().split('\n')[0] ?? ''
  return `The photo is damaged or cut short, so it cannot be opened (${words}).`
}
