import { deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { probe } from '../../../services/intake/probe.ts'
import { MAX_PICTURE_MEGAPIXELS } from '../../../services/picture-formats.ts'

const blank = (width = 32, height = 18) =>
  sharp({ create: { width, height, channels: 3, background: '#964' } })

/** A PNG that says how large it is and holds almost nothing: the size of a picture bomb without its pixels. */
function pngThatClaims(width: number, height: number): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header.set([8, 2, 0, 0, 0], 8)
  const chunk = (type: string, data: Buffer) => {
    const whole = Buffer.alloc(12 + data.length)
    whole.writeUInt32BE(data.length, 0)
    whole.write(type, 4, 'latin1')
    data.copy(whole, 8)
    whole.writeUInt32BE(crc32(whole.subarray(4, 8 + data.length)), 8 + data.length)
    return whole
  }
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.alloc(64))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

/** CRC-32 of PNG chunks (ISO/IEC 15948, annex D). */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff
  for (const byte of bytes) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0)
  }
  return (crc ^ 0xffffffff) >>> 0
}

describe('a look at the header', () => {
  test.each(['jpeg', 'png', 'webp'] as const)(
    'knows a %s and its size, whatever its name',
    async (format) => {
      expect(await probe(await blank().toFormat(format).toBuffer())).toEqual({
        kind: 'picture',
        format,
        width: 32,
        height: 18,
      })
    },
  )
  test('a still from a camera on its side is measured upright (EXIF orientation 6)', async () => {
    const bytes = await blank().withMetadata({ orientation: 6 }).jpeg().toBuffer()
    expect(await probe(bytes)).toMatchObject({ width: 18, height: 32 })
  })
  test('CMYK, 16 bit and animated stills are pictures too', async () => {
    const cmyk = await blank().toColourspace('cmyk').jpeg().toBuffer()
    const deep = await blank().toColourspace('rgb16').png().toBuffer()
    const two = await sharp([await blank().png().toBuffer(), await blank().negate().png().toBuffer()], {
      join: { animated: true },
    })
      .webp()
      .toBuffer()
    for (const bytes of [cmyk, deep, two])
      expect(await probe(bytes)).toMatchObject({ kind: 'picture', width: 32, height: 18 })
  })
  test('a still cut short still has its header: the eye will say that the rest is missing', async () => {
    const whole = await blank(640, 360).jpeg().toBuffer()
    expect(await probe(whole.subarray(0, whole.length / 2))).toMatchObject({ kind: 'picture', width: 640 })
  })
})

describe('bytes that are no photo are called what they are', () => {
  test.each([
    ['an empty file', Buffer.alloc(0), /empty/],
    ['text', Buffer.from('ERROR 503: modem busy'), /not a photo/],
    ['a web page', Buffer.from('<!DOCTYPE html><title>Log in</title>'), /a web page/],
    ['a PDF', Buffer.from('%PDF-1.7'), /a PDF/],
    ['a video', Buffer.from('\0\0\0\x18ftypmp42', 'latin1'), /a video/],
    ['a HEIC photo', Buffer.from('\0\0\0\x18ftypheic', 'latin1'), /a HEIC photo/],
    ['a sound', Buffer.from('RIFF\x24\0\0\0WAVEfmt ', 'latin1'), /a video or a sound, not/],
    ['a drawing', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'), /SVG/],
    ['a JPEG of three bytes', Buffer.from('ffd8ff', 'hex'), /JPEG .*header cannot be read/],
    ['a PNG of eight bytes', Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), /PNG .*header cannot be read/],
  ])('%s', async (_, bytes, words) => {
    const seen = await probe(bytes)
    expect(seen.kind === 'unreadable' && seen.reason).toMatch(words)
  })
  test('a GIF is named, not read', async () => {
    expect(await probe(await blank().gif().toBuffer())).toMatchObject({
      reason: expect.stringMatching(/a GIF/),
    })
  })
})

describe('too many pixels', () => {
  test('20,000 x 20,000 is refused by its header, with the size and the limit', async () => {
    const seen = await probe(pngThatClaims(20_000, 20_000))
    expect(seen.kind === 'unreadable' && seen.reason).toMatch(/20000 x 20000 .* 100 megapixels/)
  })
  test('a still at the limit is let through', async () => {
    expect(await probe(pngThatClaims(10_000, MAX_PICTURE_MEGAPIXELS * 100))).toMatchObject({
      kind: 'picture',
    })
  })
})
