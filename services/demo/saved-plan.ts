/** What a demo's data folder remembers of itself, so that it goes on with the same past when started again. */
import { readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'

/** A stretch of past, made at one start: the first is the whole past, later ones the days between two starts. */
export interface Chapter {
  /** Where it ends. */
  readonly now: Instant
  /** Nights back from `now` that are drawn. */
  readonly nights: number
  /** Only what came after this is made; null: all of it. */
  readonly since: Instant | null
  /** Steps of making it that are surely done (see makePast). */
  readonly step: number
}

export interface SavedPlan {
  readonly seed: number
  /** Oldest first; at least one. */
  readonly chapters: readonly Chapter[]
}

const FILE = 'demo.json'
const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS
/** Started again within the hour, the past is still recent. */
const RECENT_MS = HOUR_MS
/** After a longer rest the nights before are left as not watched. */
const MOST_NIGHTS_CAUGHT_UP = 56

const instant = z.int().transform((ms) => ms as Instant)
const door = z.object({
  seed: z.int(),
  chapters: z
    .array(
      z.object({
        now: instant,
        nights: z.int().positive(),
        since: instant.nullable(),
        step: z.int().nonnegative(),
      }),
    )
    .min(1),
})

/** The plan of a demo begun now. */
export function firstPlan(begin: {
  readonly seed: number
  readonly nights: number
  readonly now: Instant
}): SavedPlan {
  return { seed: begin.seed, chapters: [{ now: begin.now, nights: begin.nights, since: null, step: 0 }] }
}

/** The same plan with a chapter for the days since it was last started, so that a demo of last week is alive today. */
export function caughtUp(plan: SavedPlan, now: Instant): SavedPlan {
  const last = plan.chapters.at(-1)!
  if (now - last.now < RECENT_MS) return plan
  const nights = Math.min(MOST_NIGHTS_CAUGHT_UP, Math.ceil((now - last.now) / DAY_MS) + 1)
  return { ...plan, chapters: [...plan.chapters, { now, nights, since: last.now, step: 0 }] }
}

/** The plan with one chapter's step moved on. */
export function withStep(plan: SavedPlan, chapter: number, step: number): SavedPlan {
  return {
    ...plan,
    chapters: plan.chapters.map((one, index) => (index === chapter ? { ...one, step } : one)),
  }
}

/** The plan of the demo in this folder, or null where none was begun. @throws Refusal when it is damaged */
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

/** Whether the folder is a demo's, damaged or not: only such a one is ever deleted. */
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
