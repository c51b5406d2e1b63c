/** Small true pictures that carry a word for the stub eye (tests/stub-eye.ts), each with a hash of its own. */
import sharp from 'sharp'

let plain: Promise<Buffer> | null = null

/** A JPEG whose comment is `word`: a word of the stub eye's, and whatever makes it a photo of its own. */
export async function photoLike(word: string): Promise<Buffer> {
  plain ??= sharp({ create: { width: 64, height: 36, channels: 3, background: '#806040' } })
    .jpeg()
    .toBuffer()
  const picture = await plain
  const text = Buffer.from(word)
  const comment = Buffer.alloc(4)
  // A COM segment behind the start of the image (ITU-T T.81, section B.2.4.5).
  comment.writeUInt16BE(0xfffe, 0)
  comment.writeUInt16BE(2 + text.length, 2)
  return Buffer.concat([picture.subarray(0, 2), comment, text, picture.subarray(2)])
}
