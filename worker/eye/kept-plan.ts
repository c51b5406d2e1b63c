/** The plan that was measured, kept in a file: measured again only when something it depends on has changed. */
import { readFile, rename, writeFile } from 'node:fs/promises'
import { z } from 'zod'
import type { EyePlan } from './plan.ts'

const count = z.int().positive()
const keptShape = z.object({
  /** What the measurement depends on: models, cores, runtime, settings. */
  of: z.string(),
  eyeThreads: count,
  onnxThreads: count,
  stillsInFlight: count,
})

/** The plan kept for the same models, machine and settings; null when there is none, or the file can't be used. */
export async function readKeptPlan(file: string, of: string): Promise<EyePlan | null> {
  try {
    const kept = keptShape.parse(JSON.parse(await readFile(file, 'utf8')))
    if (kept.of !== of) return null
    const { eyeThreads, onnxThreads, stillsInFlight } = kept
    return { eyeThreads, onnxThreads, stillsInFlight }
  } catch {
    return null
  }
}

/** Keeps a plan; written aside and renamed, so that a file that is there is whole. */
export async function keepPlan(file: string, of: string, plan: EyePlan): Promise<void> {
  const aside = `${file}.${process.pid}`
  await writeFile(aside, JSON.stringify({ of, ...plan }))
  await rename(aside, file)
}
