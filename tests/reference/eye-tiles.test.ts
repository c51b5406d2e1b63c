/**
 * Large stills: what the eye finds when it looks closer. The large still is one of the demo's, 1,280 x 720, laid into a
 * frame of 4,000 x 3,000, so that its animals are what far ones are in a photo of twelve megapixels.
 */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import type { Box, Looked, Species } from '../../services/words.ts'
import { createEye, type Eye } from '../../worker/eye/look.ts'
import { intersectionOverUnion } from '../../worker/eye/suppress.ts'

const LARGE = { width: 4000, height: 3000 }
/** Where the small still lies: over the seams of several tiles. */
const AT = { left: 1500, top: 1100 }
/** Animals of 55 to 66 pixels' height, where they stand in the small still (services/demo/stills/truth.json). */
const STILLS: Readonly<Record<string, readonly { readonly species: Species; readonly box: Box }[]>> = {
  'snakewood-bore-05.jpg': [
    { species: 'cattle', box: [284, 305, 341, 367] },
    { species: 'cattle', box: [464, 311, 566, 377] },
    { species: 'cattle', box: [352, 280, 421, 337] },
  ],
  'snakewood-bore-07.jpg': [{ species: 'donkey', box: [612, 303, 671, 358] }],
  'lantern-bore-07.jpg': [{ species: 'camel', box: [437, 395, 531, 451] }],
}

let eye: Eye
beforeAll(async () => {
  eye = await createEye({ modelsFolder })
})
afterAll(() => eye.close())

async function far(file: string): Promise<Buffer> {
  const still = sharp(await readFile(join(demoStillsFolder, file)))
  const { dominant } = await still.stats()
  return await still
    .extend({
      left: AT.left,
      top: AT.top,
      right: LARGE.width - AT.left - 1280,
      bottom: LARGE.height - AT.top - 720,
      background: dominant,
    })
    .jpeg({ quality: 90 })
    .toBuffer()
}

function counted(looked: Looked) {
  if (looked.kind === 'unreadable') throw new Error(looked.reason)
  return looked.found.filter(({ score }) => score >= eye.thresholds.count)
}

test.each(Object.entries(STILLS))(
  '%s: animals too small for the whole photo are found in its tiles, each once',
  async (file, animals) => {
    const bytes = await far(file)
    const whole = await eye.look(bytes)
    const closer = await eye.look(bytes, { tiles: true })
    for (const { species, box } of animals) {
      const there: Box = [box[0] + AT.left, box[1] + AT.top, box[2] + AT.left, box[3] + AT.top]
      const found = (looked: Looked) =>
        counted(looked)
          .filter((one) => intersectionOverUnion(one.box, there) >= 0.5)
          .map((one) => one.species)
      expect(found(whole)).toEqual([])
      expect(found(closer)).toEqual([species])
    }
    expect(counted(closer).length).toBe(animals.length)
  },
  240_000,
)

test('a photo of the usual size is seen the same either way', async () => {
  const bytes = await readFile(join(demoStillsFolder, 'galah-well-04.jpg'))
  expect(await eye.look(bytes, { tiles: true })).toEqual(await eye.look(bytes))
}, 240_000)
