/** A cheap look at the first bytes: is this a picture the eye can be given, and how large is it? */
import sharp from 'sharp'

/** Over this a still is kept but not decoded: a small file can hold a picture that fills the memory. */
export const MAX_PICTURE_MEGAPIXELS = 100

export type Probed =
  | {
      readonly kind: 'picture'
      readonly format: 'jpeg' | 'png' | 'webp'
      /** Pixels, after EXIF orientation. */
      readonly width: number
      readonly height: number
    }
  | { readonly kind: 'unreadable'; readonly reason: string }

type Format = 'jpeg' | 'png' | 'webp'

/** First bytes of what a camera, a modem or a hand may send instead (format signatures, from memory). */
const OTHERS: readonly (readonly [name: string, at: number, sign: string])[] = [
  ['a GIF', 0, 'GIF8'],
  ['a TIFF', 0, 'II*\0'],
  ['a TIFF', 0, 'MM\0*'],
  ['a BMP', 0, 'BM'],
  ['a HEIC photo', 4, 'ftyphei'],
  ['a HEIC photo', 4, 'ftypmif1'],
  ['an AVIF photo', 4, 'ftypavif'],
  ['a video', 4, 'ftyp'],
  ['a video', 4, 'moov'],
  ['a PDF', 0, '%PDF'],
  ['a ZIP archive', 0, 'PK\x03\x04'],
  ['a web page', 0, '<!DOCTYPE'],
  ['a web page', 0, '<!doctype'],
  ['a web page', 0, '<html'],
  ['an SVG drawing', 0, '<svg'],
  ['an XML file', 0, '<?xml'],
]
const WANTED = 'JPEG, PNG or WebP'

/**
 * What the header says of the bytes, by content and never by name. Nothing is decoded, so a still that was cut
 * short passes here and is found unreadable by the eye. Never throws.
 */
export async function probe(bytes: Buffer): Promise<Probed> {
  if (bytes.length === 0) return unreadable('the file is empty')
  const format = formatOf(bytes)
  if (format === null) return unreadable(notAPhoto(bytes))
  try {
    // The limit is ours to apply, below: sharp's own would refuse before it told us the size.
    const { autoOrient } = await sharp(bytes, { limitInputPixels: false }).metadata()
    const { width, height } = autoOrient
    if (width * height > MAX_PICTURE_MEGAPIXELS * 1e6)
      return unreadable(`${width} x ${height} pixels, over the limit of ${MAX_PICTURE_MEGAPIXELS} megapixels`)
    return { kind: 'picture', format, width, height }
  } catch {
    return unreadable(`begins as a ${nameOf(format)} but its header cannot be read`)
  }
}

function formatOf(bytes: Buffer): Format | null {
  if (startsWith(bytes, 0, '\xff\xd8\xff')) return 'jpeg'
  if (startsWith(bytes, 0, '\x89PNG\r\n\x1a\n')) return 'png'
  if (startsWith(bytes, 0, 'RIFF') && startsWith(bytes, 8, 'WEBP')) return 'webp'
  return null
}

function nameOf(format: Format): string {
  return { jpeg: 'JPEG', png: 'PNG', webp: 'WebP' }[format]
}

function notAPhoto(bytes: Buffer): string {
  if (startsWith(bytes, 0, 'RIFF')) return `a video or a sound, not a ${WANTED}`
  const other = OTHERS.find(([, at, sign]) => startsWith(bytes, at, sign))
  return other === undefined ? `not a photo (not a ${WANTED})` : `${other[0]}, not a ${WANTED}`
}

function startsWith(bytes: Buffer, at: number, sign: string): boolean {
  return bytes.toString('latin1', at, at + sign.length) === sign
}

function unreadable(reason: string): Probed {
  return { kind: 'unreadable', reason }
}
