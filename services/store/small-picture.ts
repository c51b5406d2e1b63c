/** The small picture of a photo: what a phone is shown first, and what may stay when the photo itself goes. */
import sharp from 'sharp'

const SMALL_LONGEST_SIDE_PX = 640
const SMALL_QUALITY = 62

/** The small picture of a still's bytes as WebP; null where they cannot be read. */
export async function smallOf(bytes: Buffer): Promise<Buffer | null> {
  try {
    return await sharp(bytes, { autoOrient: true })
      .resize(SMALL_LONGEST_SIDE_PX, SMALL_LONGEST_SIDE_PX, { fit: 'inside', withoutEnlargement: true })
      .webp({ quality: SMALL_QUALITY, effort: 2 })
      .toBuffer()
  } catch {
    return null
  }
}
