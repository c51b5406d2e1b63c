import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { crc32 } from 'node:zlib'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { demoStillsFolder } from '../../../../services/paths.ts'
import { letterbox } from '../../../../worker/eye/letterbox.ts'
import { decode, decodeUpTo, measure, reduce, reduceFromBytes } from '../../../../worker/eye/prepare.ts'

const still = () => readFile(join(demoStillsFolder, 'galah-well-06.jpg'))
const RED = { r: 200, g: 30, b: 40 }
const red = (width = 40, height = 20) => sharp({ create: { width, height, channels: 3, background: RED } })

/** Reads a picture as the eye does: measured, then decoded; the middle pixel. */
async function middle(bytes: Buffer) {
  const size = await measure(bytes)
  const { data, width, height } = await decode(bytes)
  expect({ width, height }).toEqual(size)
  expect(data.length).toBe(width * height * 3)
  const at = (Math.floor(height / 2) * width + Math.floor(width / 2)) * 3
  return { width, height, rgb: [...data.subarray(at, at + 3)] }
}
function expectRed(rgb: number[], tolerance: number) {
  for (const [i, value] of [RED.r, RED.g, RED.b].entries())
    expect(Math.abs((rgb[i] ?? -1) - value)).toBeLessThanOrEqual(tolerance)
}

describe('what can be read', () => {
  test('a PNG named .jpg: only the content counts', async () => {
    expectRed((await middle(await red().png().toBuffer())).rgb, 0)
  })

  test('a CMYK JPEG comes out as RGB', async () => {
    const cmyk = await red().toColourspace('cmyk').jpeg({ quality: 100 }).toBuffer()
    expect((await sharp(cmyk).metadata()).space).toBe('cmyk')
    // Four inks and back is not exact; a red stays a red.
    expectRed((await middle(cmyk)).rgb, 40)
  })

  test('a 16-bit PNG comes out as 8 bits', async () => {
    const deep = await red().toColourspace('rgb16').png().toBuffer()
    expect((await sharp(deep).metadata()).depth).toBe('ushort')
    expectRed((await middle(deep)).rgb, 1)
  })

  test('a grey picture comes out as three equal channels', async () => {
    const grey = await red().toColourspace('b-w').jpeg().toBuffer()
    expect((await sharp(grey).metadata()).channels).toBe(1)
    const { rgb } = await middle(grey)
    expect(new Set(rgb).size).toBe(1)
  })

  test('a 16-bit grey PNG does too', async () => {
    const grey = await red().toColourspace('grey16').png().toBuffer()
    expect((await sharp(grey).metadata()).depth).toBe('ushort')
    expect(new Set((await middle(grey)).rgb).size).toBe(1)
  })

  test('transparency is left out', async () => {
    expectRed((await middle(await red().ensureAlpha(0.5).png().toBuffer())).rgb, 0)
  })

  test('of an animated WebP the first frame is read', async () => {
    const frames = await Promise.all([red(), red().negate()].map((frame) => frame.png().toBuffer()))
    const animated = await sharp(frames, { join: { animated: true } })
      .webp({ lossless: true })
      .toBuffer()
    expect((await sharp(animated, { animated: true }).metadata()).pages).toBe(2)
    const { width, height, rgb } = await middle(animated)
    expect({ width, height }).toEqual({ width: 40, height: 20 })
    expectRed(rgb, 2)
  })

  test('EXIF orientation 6 (turned a quarter) is stood upright', async () => {
    // Left half black, right half red; orientation 6 asks for a quarter turn clockwise: the left becomes the top.
    const half = await sharp({ create: { width: 40, height: 20, channels: 3, background: 'black' } })
      .composite([{ input: await red(20, 20).png().toBuffer(), left: 20, top: 0 }])
      .withMetadata({ orientation: 6 })
      .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
      .toBuffer()
    expect(await measure(half)).toEqual({ width: 20, height: 40 })
    const { data, width, height } = await decode(half)
    expect({ width, height }).toEqual({ width: 20, height: 40 })
    expect(data[(5 * 20 + 10) * 3]).toBeLessThan(20)
    expect(data[(35 * 20 + 10) * 3]).toBeGreaterThan(180)
  })

  test('broken EXIF does no harm to the picture', async () => {
    const bytes = await red().withMetadata({ orientation: 1 }).jpeg().toBuffer()
    const exif = bytes.indexOf('Exif')
    expect(exif).toBeGreaterThan(0)
    bytes.fill(0xff, exif + 6, exif + 30)
    expectRed((await middle(bytes)).rgb, 6)
  })
})

describe('what cannot be read says why', () => {
  test('an empty file', async () => {
    await expect(measure(Buffer.alloc(0))).rejects.toThrow('The file is empty.')
  })

  test('not an image', async () => {
    await expect(measure(Buffer.from('Bore 7 pumped dry'))).rejects.toThrow('The file is not a photo')
  })

  test.each([
    ['a GIF', () => red().gif().toBuffer()],
    ['a TIFF', () => red().tiff().toBuffer()],
    ['an AVIF photo', () => red(64, 64).avif({ effort: 0 }).toBuffer()],
    [
      'an SVG drawing',
      async () => Buffer.from('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>'),
    ],
  ])('%s is named', async (name, make) => {
    await expect(measure(await make())).rejects.toThrow(
      `The file is ${name}; only JPEG, PNG and WebP photos can be read.`,
    )
  })

  test.each([0.02, 0.5, 0.97])('a JPEG cut short after %d of its bytes', async (part) => {
    const bytes = await still()
    const cut = bytes.subarray(0, Math.floor(bytes.length * part))
    await expect(measure(cut).then(() => decode(cut))).rejects.toThrow('damaged or cut short')
  })

  test('a cut JPEG is refused on the way of large stills too', async () => {
    const bytes = await still()
    const cut = bytes.subarray(0, Math.floor(bytes.length / 2))
    const place = letterbox({ width: 1280, height: 720 }, { width: 640, height: 384 })
    await expect(reduceFromBytes(cut, place)).rejects.toThrow('damaged or cut short')
  })

  test('a PNG and a WebP cut in half', async () => {
    const picture = sharp(await still()).resize(320)
    for (const whole of [await picture.png().toBuffer(), await picture.webp().toBuffer()]) {
      const cut = whole.subarray(0, Math.floor(whole.length / 2))
      await expect(measure(cut).then(() => decode(cut))).rejects.toThrow('damaged or cut short')
    }
  })

  test('20,000 x 20,000 pixels are refused from the header, before anything is decoded', async () => {
    // 57 bytes: a header and no picture. Decoding it would fail with other words.
    await expect(measure(pngHeader(20_000, 20_000))).rejects.toThrow(
      'The photo is 20000 x 20000 pixels; at most 100 megapixels can be read.',
    )
  })
})

describe('decoding that asks for no size first', () => {
  const JUST_UNDER = 40 * 20

  test.each(['jpeg', 'png', 'webp'] as const)(
    'gives the same pixels of a %s up to the limit',
    async (format) => {
      const bytes = await red()[format]().toBuffer()
      expect(await decodeUpTo(bytes, JUST_UNDER)).toEqual(await decode(bytes))
    },
  )

  test.each(['jpeg', 'png', 'webp'] as const)('leaves a larger %s as it is, and says so', async (format) => {
    expect(await decodeUpTo(await red(41)[format]().toBuffer(), JUST_UNDER)).toBeNull()
    expect(await decodeUpTo(pngHeader(20_000, 20_000), JUST_UNDER)).toBeNull()
  })

  test('refuses what cannot be read', async () => {
    const bytes = await still()
    await expect(decodeUpTo(bytes.subarray(0, bytes.length / 2), 2e6)).rejects.toThrow('damaged or cut short')
    await expect(decodeUpTo(await red().gif().toBuffer(), 2e6)).rejects.toThrow('The file is a GIF')
  })
})

test('both ways to the detector’s input give nearly the same picture', async () => {
  const bytes = await still()
  const place = letterbox(await measure(bytes), { width: 640, height: 384 })
  const [small, large] = [await reduce(await decode(bytes), place), await reduceFromBytes(bytes, place)]
  expect(small.length).toBe(640 * 384 * 3)
  expect(large.length).toBe(small.length)
  let sum = 0
  for (const [i, value] of small.entries()) sum += Math.abs(value - (large[i] ?? 0))
  // Of 255: two ways of halving a picture differ by little more than rounding.
  expect(sum / small.length).toBeLessThan(2)
  // The 12 rows above the still are black.
  expect(small.subarray(0, 12 * 640 * 3).every((value) => value === 0)).toBe(true)
})

/** A PNG that is only its header (ISO/IEC 15948, 11.2.2) and an empty end. */
function pngHeader(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
    const length = Buffer.alloc(4)
    length.writeUInt32BE(data.length)
    const check = Buffer.alloc(4)
    check.writeUInt32BE(crc32(body))
    return Buffer.concat([length, body, check])
  }
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header.set([8, 2], 8)
  const nothing = chunk('IDAT', Buffer.alloc(0))
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    nothing,
    chunk('IEND', Buffer.alloc(0)),
  ])
}
