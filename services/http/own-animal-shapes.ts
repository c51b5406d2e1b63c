/** The shapes of the answers about the station's own animals. */
import { z } from 'zod'
import { BASE_NAMES } from '../learning/kinds.ts'
import { VERDICTS } from '../learning/trial.ts'
import { SPECIES } from '../words.ts'

const localTime = z.iso.datetime({ offset: true })
const count = z.int().nonnegative()

export const kindsAnswer = z.object({
  kinds: z.array(z.object({ name: z.string(), madeAt: localTime })),
})

const trialShape = z.object({
  /** Animals judged on nights that were not learned from, and in how many nights of cameras they came. */
  animals: count,
  nights: count,
  /** Counted wrongly with the models' own names, and with the station's. */
  wrongBefore: count,
  wrongNow: count,
  /** That it is chance, one-sided. */
  p: z.number().min(0).max(1),
  ofEach: z.array(
    z.object({
      name: z.enum(BASE_NAMES as [string, ...string[]]),
      animals: count,
      missedBefore: count,
      missedNow: count,
      /** Others counted as it. */
      falseBefore: count,
      falseNow: count,
      worse: z.boolean(),
    }),
  ),
})

export const namersAnswer = z.object({
  /** False where the models have no namer: there is nothing to learn from. */
  canLearn: z.boolean(),
  isOn: z.boolean(),
  /** A new version that names better is used by itself. */
  takesNew: z.boolean(),
  /** The version that names now, or null. */
  inUse: count.nullable(),
  /** Species that never come here, by the owner's word. */
  absent: z.array(z.enum(SPECIES)),
  atWork: z.boolean(),
  /** Checked animals to learn from now, and at how many it is tried next. */
  animals: count,
  triedAt: count,
  ofEach: z.array(
    z.object({
      kind: z.string(),
      animals: count,
      nights: count,
      /** Enough to be learned. */
      enough: z.boolean(),
    }),
  ),
  /** The latest first. */
  versions: z.array(
    z.object({
      version: count,
      madeAt: localTime,
      animals: count,
      /** Kinds it tells apart; the others are named as the models name them. */
      kinds: z.array(z.string()),
      seed: z.string(),
      ridge: z.number(),
      verdict: z.enum(VERDICTS),
      trial: trialShape,
    }),
  ),
})

export const namerCropsAnswer = z.object({
  version: count.nullable(),
  /** Which box of which photo was which animal, by which check. */
  crops: z.array(z.object({ stillId: count, checkId: count, detectionId: count, kind: z.string() })),
})

export type KindsAnswer = z.infer<typeof kindsAnswer>
export type NamersAnswer = z.infer<typeof namersAnswer>
