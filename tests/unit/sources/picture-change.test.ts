/** What counts as a change of a fixed camera's picture: a beast does, light and noise and a worse JPEG do not. */
import { join } from 'node:path'
import fc from 'fast-check'
import sharp, { type Sharp } from 'sharp'
import { describe, expect, test } from 'vitest'
import { demoStillsFolder } from '../../../services/paths.ts'
import { changedPercent, GREY_CELLS, greyOf } from '../../../services/sources/picture-change.ts'
import { snapshotDoor } from '../../../services/sources/snapshot-settings.ts'

/** Stills without animals (services/demo/stills/truth.json), by day and by night, 1280 x 720. */
const EMPTY = [
  { still: 'galah-well-00.jpg', tones: ['#2a1c12', '#f0e6d8'] },
  { still: 'ironbark-dam-00.jpg', tones: ['#2a1c12', '#f0e6d8'] },
  // In infra-red at night a beast is lighter than the ground.
  { still: 'galah-well-01.jpg', tones: ['#f0e6d8', '#a0a0a0'] },
  { still: 'ironbark-dam-01.jpg', tones: ['#f0e6d8', '#a0a0a0'] },
]
const { leastChangePercent } = snapshotDoor.parse({ address: 'http://camera.example/' })

const open = (still: string) => sharp(join(demoStillsFolder, still))
const jpeg = (picture: Sharp, quality = 82) => picture.jpeg({ quality }).toBuffer()

/** A beast's size and shape on the picture, lighter or darker than what is behind it. */
async function withBeast(still: string, widthPx: number, tone: string): Promise<Buffer> {
  const ellipse = `<svg width="1280" height="720"><ellipse cx="640" cy="430" rx="${widthPx / 2}" ry="${widthPx * 0.35}" fill="${tone}"/></svg>`
  return await jpeg(open(still).composite([{ input: Buffer.from(ellipse) }]))
}

async function noisy(still: string, sigma: number): Promise<Buffer> {
  const noise = await sharp({
    create: {
      width: 1280,
      height: 720,
      channels: 3,
      background: '#808080',
      noise: { type: 'gaussian', mean: 128, sigma },
    },
  })
    .png()
    .toBuffer()
  return await jpeg(open(still).composite([{ input: noise, blend: 'soft-light' }]))
}

async function change(still: string, after: Buffer): Promise<number> {
  return changedPercent(await greyOf(await jpeg(open(still))), await greyOf(after))
}

describe.each(EMPTY)('$still', ({ still, tones }) => {
  test('the same scene, a little brighter or darker, noisier or in a worse JPEG: nothing new', async () => {
    const others = await Promise.all([
      jpeg(open(still), 35),
      jpeg(open(still).linear(1.08, 0)),
      jpeg(open(still).linear(0.92, 0)),
      jpeg(open(still).linear(1, 12)),
      noisy(still, 30),
    ])
    for (const other of others) expect(await change(still, other)).toBeLessThan(leastChangePercent)
  })
  test.each(tones)('a beast 120 pixels long (%s) is something new', async (tone) => {
    expect(await change(still, await withBeast(still, 120, tone))).toBeGreaterThanOrEqual(leastChangePercent)
  })
})

test('turned by its EXIF, a picture is the same picture', async () => {
  const upright = await jpeg(open('galah-well-00.jpg'))
  const turned = await open('galah-well-00.jpg')
    .rotate(90)
    .withMetadata({ orientation: 8 })
    .jpeg({ quality: 82 })
    .toBuffer()
  expect(changedPercent(await greyOf(upright), await greyOf(turned))).toBeLessThan(leastChangePercent)
})

describe('of any two pictures', () => {
  const picture = fc.uint8Array({ minLength: GREY_CELLS, maxLength: GREY_CELLS })
  test('it is a share, none of a picture and itself, and the same both ways', () => {
    fc.assert(
      fc.property(picture, picture, (a, b) => {
        const percent = changedPercent(a, b)
        expect(percent).toBeGreaterThanOrEqual(0)
        expect(percent).toBeLessThanOrEqual(100)
        expect(changedPercent(a, a)).toBe(0)
      }),
      { numRuns: 30 },
    )
  })
  test('a change of light alone is none: so many levels on every cell', () => {
    const dark = Uint8Array.from({ length: GREY_CELLS }, (_, i) => 40 + (i % 100))
    expect(
      changedPercent(
        dark,
        dark.map((level) => level + 60),
      ),
    ).toBe(0)
  })
  test('so many cells are so many per cent', () => {
    const before = new Uint8Array(GREY_CELLS).fill(100)
    const after = before.map((level, i) => (i < 23 ? 160 : level))
    expect(changedPercent(before, after)).toBeCloseTo((100 * 23) / GREY_CELLS, 10)
  })
})
