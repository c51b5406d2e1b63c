/**
 * The product's pipeline against the reference pipeline (Python, onnxruntime, Pillow) on 30 stills: models/reference.json
 * holds its boxes at or over the count threshold. Tolerances: models/CARD.md (overlap 0.8, score within 0.1, a few
 * border cases, because image libraries reduce a little differently).
 */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { z } from 'zod'
import { demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import { SPECIES } from '../../services/words.ts'
import { createEye, type Eye } from '../../worker/eye/look.ts'
import { intersectionOverUnion } from '../../worker/eye/suppress.ts'

const referenceShape = z.record(
  z.string(),
  z.array(
    z.object({
      species: z.enum(SPECIES),
      score: z.number(),
      box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
    }),
  ),
)

let eye: Eye
beforeAll(async () => {
  eye = await createEye({ modelsFolder })
})
afterAll(() => eye.close())

test('at least nine in ten of the reference pipeline’s boxes are found alike', async () => {
  const reference = referenceShape.parse(
    JSON.parse(await readFile(join(modelsFolder, 'reference.json'), 'utf8')),
  )
  let boxes = 0
  let alike = 0
  for (const [file, expected] of Object.entries(reference)) {
    const looked = await eye.look(await readFile(join(demoStillsFolder, file)))
    if (looked.kind === 'unreadable') throw new Error(`${file}: ${looked.reason}`)
    const free = [...looked.found]
    for (const { species, score, box } of expected) {
      boxes++
      const at = free.findIndex(
        (one) =>
          one.species === species &&
          intersectionOverUnion(one.box, box) >= 0.8 &&
          Math.abs(one.score - score) <= 0.1,
      )
      if (at < 0) continue
      alike++
      free.splice(at, 1)
    }
  }
  console.log(`boxes of the reference pipeline found alike: ${alike} of ${boxes}`)
  expect(Object.keys(reference).length).toBe(30)
  expect(alike / boxes).toBeGreaterThanOrEqual(0.9)
}, 300_000)
