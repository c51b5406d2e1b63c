/**
 * The product's own pipeline on the demo's 140 stills, against what was rendered into them. Bounds: the issue of the
 * first product (a plain spike gave 103 to 104 exact stills, the reference pipeline 106; models/CARD.md).
 */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { z } from 'zod'
import { demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import { type Name, SPECIES } from '../../services/words.ts'
import { createEye, type Eye } from '../../worker/eye/look.ts'
import { NAMES } from '../../worker/eye/manifest.ts'

const truthShape = z.record(
  z.string(),
  z.object({
    animals: z.array(
      z.object({
        species: z.enum(NAMES as [Name, ...Name[]]),
        box: z.tuple([z.number(), z.number(), z.number(), z.number()]),
        /** Visible pixels. */
        pixels: z.number(),
      }),
    ),
  }),
)
type Animal = z.infer<typeof truthShape>[string]['animals'][number]

/** Large and clear enough that missing it is a fault: 26 pixels high, 250 of them visible. */
const clear = ({ box, pixels }: Animal) => box[3] - box[1] >= 26 && pixels >= 250

let eye: Eye
beforeAll(async () => {
  eye = await createEye({ modelsFolder })
})
afterAll(() => eye.close())

test('species present are found in at least 117 of 119, and all counts exact in at least 102 of 140', async () => {
  const truth = truthShape.parse(JSON.parse(await readFile(join(demoStillsFolder, 'truth.json'), 'utf8')))
  let pairs = 0
  let found = 0
  let exact = 0
  const missed: string[] = []
  for (const [file, { animals }] of Object.entries(truth)) {
    const looked = await eye.look(await readFile(join(demoStillsFolder, file)))
    if (looked.kind === 'unreadable') throw new Error(`${file}: ${looked.reason}`)
    const counted = looked.found.filter(({ score }) => score >= eye.thresholds.count)
    let right = true
    for (const species of SPECIES) {
      const there = animals.filter((animal) => animal.species === species)
      const least = there.filter(clear).length
      const count = counted.filter((one) => one.species === species).length
      if (count < least || count > there.length) right = false
      if (least === 0) continue
      pairs++
      if (count > 0) found++
      else missed.push(`${file} ${species}`)
    }
    if (right) exact++
  }
  const stills = Object.keys(truth).length
  console.log(
    `species present found: ${found} of ${pairs} (missed: ${missed.join(', ') || 'none'}); ` +
      `every count exact: ${exact} of ${stills} stills`,
  )
  expect([pairs, stills]).toEqual([119, 140])
  expect(found).toBeGreaterThanOrEqual(117)
  expect(exact).toBeGreaterThanOrEqual(102)
}, 600_000)
