/** The pool of rendered stills and what is truly in each: the demo draws fitting ones from it. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { demoStillsFolder } from '../paths.ts'
import { SPECIES, type Species, type Tally } from '../words.ts'

const truthShape = z.record(
  z.string(),
  z.object({
    point: z.string(),
    light: z.enum(['day', 'night']),
    animals: z.array(z.object({ species: z.enum([...SPECIES, 'other']) })),
  }),
)

export interface PooledStill {
  /** File name in the demo's stills folder. */
  readonly source: string
  readonly pointKey: string
  readonly light: 'day' | 'night'
  readonly species: ReadonlySet<Species>
  /** Dogs, sheep, pigs. */
  readonly hasOther: boolean
}

const readTruth = async (folder: string) =>
  truthShape.parse(JSON.parse(await readFile(join(folder, 'truth.json'), 'utf8')))

/** How many of each species are truly in each of the demo's stills, by file name. @throws as readStillPool does */
export async function readTrueTallies(
  folder: string = demoStillsFolder,
): Promise<ReadonlyMap<string, Tally>> {
  const truth = await readTruth(folder)
  return new Map(
    Object.entries(truth).map(([source, { animals }]) => {
      const tally: Partial<Record<Species, number>> = {}
      for (const { species } of animals) if (species !== 'other') tally[species] = (tally[species] ?? 0) + 1
      return [source, tally]
    }),
  )
}

/** What the demo's stills show, by their own truth file. @throws when the folder or its truth.json is not whole */
export async function readStillPool(folder: string = demoStillsFolder): Promise<readonly PooledStill[]> {
  return Object.entries(await readTruth(folder)).map(([source, { point, light, animals }]) => {
    const named = animals.flatMap(({ species }) => (species === 'other' ? [] : [species]))
    const hasOther = animals.some(({ species }) => species === 'other')
    return { source, pointKey: point, light, species: new Set(named), hasOther }
  })
}
