/** The figures of the models' card (models/CARD.md), for a screen: models/figures.json says the same in numbers. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { SPECIES } from './words.ts'

const figuresShape = z.strictObject({
  model: z.strictObject({ name: z.string(), version: z.string() }),
  sets: z.array(
    z.strictObject({
      name: z.string().min(1),
      /** Of each species: how many were named right, of how many. */
      right: z.partialRecord(
        z.enum(SPECIES),
        z.tuple([z.int().nonnegative(), z.int().positive()]).refine(([right, of]) => right <= of),
      ),
    }),
  ),
})
export type ModelFigures = z.output<typeof figuresShape>

/** Null for models that came without any. @throws Error where the file is there and is something else */
export async function readModelFigures(folder: string): Promise<ModelFigures | null> {
  const text = await readFile(join(folder, 'figures.json'), 'utf8').catch((fault: NodeJS.ErrnoException) => {
    if (fault.code === 'ENOENT') return null
    throw fault
  })
  return text === null ? null : figuresShape.parse(JSON.parse(text))
}
