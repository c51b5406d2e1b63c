/** Colour tells a photo in infra-red from one by day. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { expect, test } from 'vitest'
import { z } from 'zod'
import { demoStillsFolder } from '../../../../services/paths.ts'
import { lightOf } from '../../../../services/tally/light.ts'
import { colourfulnessOf } from '../../../../worker/eye/colourfulness.ts'

const pixels = (...colours: ReadonlyArray<readonly [number, number, number]>) => ({
  // Each colour for as long as pixels are skipped, so that all are looked at.
  data: Uint8Array.from(colours.flatMap((colour) => Array.from({ length: 16 }, () => colour).flat())),
})

test('grey has none, whatever its shades', () => {
  expect(colourfulnessOf(pixels([10, 10, 10], [200, 200, 200], [90, 90, 90]))).toBe(0)
})

test('is that of its definition', () => {
  // Red and green: rg is 255 and -255, yb 127.5 twice: spread 255, mean 127.5 (Hasler & Süsstrunk 2003, equations 1 to 7).
  expect(colourfulnessOf(pixels([255, 0, 0], [0, 255, 0]))).toBeCloseTo(255 + 0.3 * 127.5, 9)
})

test('black about a letterbox has no say', () => {
  const [red, green] = [
    [255, 0, 0],
    [0, 255, 0],
  ] as const
  expect(colourfulnessOf(pixels([0, 0, 0], red, green, [0, 0, 0]))).toBe(colourfulnessOf(pixels(red, green)))
  expect(colourfulnessOf(pixels([0, 0, 0]))).toBe(0)
})

test('of each rendered still it tells whether it is one by day', async () => {
  const truth = z
    .record(z.string(), z.object({ light: z.enum(['day', 'night']) }))
    .parse(JSON.parse(await readFile(join(demoStillsFolder, 'truth.json'), 'utf8')))
  for (const [file, { light }] of Object.entries(truth).filter((_, i) => i % 7 === 0)) {
    const data = await sharp(join(demoStillsFolder, file)).resize(320).removeAlpha().raw().toBuffer()
    expect(lightOf(colourfulnessOf({ data })), file).toBe(light === 'day' ? 'day' : 'infra-red')
  }
})
