/** What a demo's data folder remembers of itself, so that it goes on with the same past when started again. */
import { readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'

export interface SavedPlan {
  readonly seed: number
  readonly nights: number
  readonly now: Instant
  /** Steps of making the past that are surely done (see makePast). */
  readonly step: number
}

const FILE = 'demo.json'
const door = z.object({
  seed: z.int(),
  nights: z.int().positive(),
  now: z.int().transform((ms) => ms as Instant),
  step: z.int().nonnegative(),
})

/** The plan of the demo in this folder, or null where none was begun. */
export async function readPlan(folder: string): Promise<SavedPlan | null> {
  const text = await readFile(join(folder, FILE), 'utf8').catch(() => null)
  if (text === null) return null
  const plan = door.safeParse(parseJson(text))
  if (plan.success) return plan.data
  throw new Refusal({
    kind: 'conflict',
    detail: `${FILE} in the demo's data folder is damaged.`,
    field: '--data',
    remedy: 'Start over with: npm run demo -- --fresh',
  })
}

/** Written aside and renamed: a demo killed meanwhile finds the plan before or after, whole. */
export async function writePlan(folder: string, plan: SavedPlan): Promise<void> {
  const part = join(folder, `${FILE}.part`)
  await writeFile(part, JSON.stringify(plan))
  await rename(part, join(folder, FILE))
}

export async function isDemoFolder(folder: string): Promise<boolean> {
  return (await readFile(join(folder, FILE), 'utf8').catch(() => null)) !== null
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}
