/** A cheap look at the first bytes: is this a picture the eye can be given, and how large is it? */
import sharp from 'sharp'
import { fileKind, MAX_PICTURE_MEGAPIXELS, type PictureFormat } from '../picture-formats.ts'

export type Probed =
  | {
      readonly kind: 'picture'
      readonly format: PictureFormat
      /** Pixels, after EXIF orientation. */
      readonly width: number
      readonly height: number
    }
  | { readonly kind: 'unreadable'; readonly reason: string }

const WANTED = 'JPEG, PNG or WebP'
const NAMES: Readonly<Record<PictureFormat, string>> = { jpeg: 'JPEG', png: 'PNG', webp: 'WebP' }

/**
 * What the header says of the bytes, by content and never by name; `mostMegapixels` at most MAX_PICTURE_MEGAPIXELS. Nothing is decoded, so a still that was cut
 * short passes here and is found unreadable by the eye. Never throws.
 */
export async function probe(bytes: Buffer, mostMegapixels = MAX_PICTURE_MEGAPIXELS): Promise<Probed> {
  if (bytes.length === 0) return unreadable('the file is empty')
  const file = fileKind(bytes)
  if (file.kind === 'other')
    return unreadable(file.name === null ? `not a photo (not a ${WANTED})` : `${file.name}, not a ${WANTED}`)
  try {
    // The limit is ours to apply, below: sharp's own would refuse before it told us the size.
    const { autoOrient } = await sharp(bytes, { limitInputPixels: false }).metadata()
    const { width, height } = autoOrient
    if (width * height > mostMegapixels * 1e6)
      return unreadable(`${width} x ${height} pixels, over the limit of ${mostMegapixels} megapixels`)
    return { kind: 'picture', format: file.format, width, height }
  } catch {
    return unreadable(`begins as a ${NAMES[file.format]} but its header cannot be read`)
  }
}

function unreadable(reason: string): Probed {
  return { kind: 'unreadable', reason }
}
