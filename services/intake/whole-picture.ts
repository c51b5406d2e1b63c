/** Whether a picture has all come: for sources that could look at it again later. */
import sharp from 'sharp'
import { fileKind, MAX_PICTURE_MEGAPIXELS } from '../picture-formats.ts'
import { probe } from './probe.ts'

/** ITU-T T.81, B.1.1.3. */
const END_OF_IMAGE = Buffer.from([0xff, 0xd9])
/** What cameras write behind the end of a JPEG (common practice, no source). */
const TAIL_BYTES = 64 * 1024
const REDUCED_PX = 64

/**
 * Null for a picture that can be decoded to its end, as the eye decodes it; else why not, in words for a person.
 * @param mostMegapixels at most MAX_PICTURE_MEGAPIXELS
 */
export async function whyNotWhole(
  bytes: Buffer,
  mostMegapixels = MAX_PICTURE_MEGAPIXELS,
): Promise<string | null> {
  const look = await probe(bytes, mostMegapixels)
  if (look.kind === 'unreadable') return look.reason
  try {
    await sharp(bytes, { failOn: 'error', limitInputPixels: MAX_PICTURE_MEGAPIXELS * 1e6, pages: 1 })
      .resize({ width: REDUCED_PX })
      .raw()
      .toBuffer()
    return null
  } catch {
    return 'damaged or cut short'
  }
}

/**
 * True for a JPEG without an end. Where room on the disk was set aside for a file it ends in zeros until it is filled,
 * and a decoder takes those for grey.
 */
export function mayStillGrow(bytes: Buffer): boolean {
  const file = fileKind(bytes)
  if (file.kind !== 'picture' || file.format !== 'jpeg') return false
  let end = bytes.length
  while (end > 0 && bytes[end - 1] === 0) end -= 1
  return !bytes.subarray(Math.max(0, end - TAIL_BYTES), end).includes(END_OF_IMAGE)
}
