/** Small photos by the thousand, each of its own bytes: one picture with a different JPEG comment in each. */
import sharp from 'sharp'

const COMMENT_MARKER = [0xff, 0xfe] as const
/** ITU-T T.81 (1992), B.1.1: every JPEG begins with the two bytes of its start-of-image marker. */
const START_BYTES = 2

/**
 * @param picture a JPEG; a tiny one unless given
 * @returns `count` readable JPEGs whose bytes differ, the same ones for the same label
 */
export async function distinctPhotos(count: number, label: string, picture?: Buffer): Promise<Buffer[]> {
  return withComments(count, label, picture ?? (await tinyPicture()))
}

function tinyPicture(): Promise<Buffer> {
  return sharp({ create: { width: 64, height: 36, channels: 3, background: '#b08a5a' } })
    .jpeg({ quality: 50 })
    .toBuffer()
}

function withComments(count: number, label: string, picture: Buffer): Buffer[] {
  const [start, rest] = [picture.subarray(0, START_BYTES), picture.subarray(START_BYTES)]
  return Array.from({ length: count }, (_, i) => Buffer.concat([start, comment(`${label} ${i}`), rest]))
}

function comment(text: string): Buffer {
  const bytes = Buffer.from(text, 'utf8')
  const head = Buffer.from([...COMMENT_MARKER, 0, 0])
  // The length counts itself (T.81, B.2.4.5).
  head.writeUInt16BE(bytes.length + 2, 2)
  return Buffer.concat([head, bytes])
}
