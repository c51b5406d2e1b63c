/** The shapes of answers about how cameras' photos are fetched. */
import { z } from 'zod'
import { SOURCE_KINDS } from '../words.ts'

const localTime = z.iso.datetime({ offset: true })
const count = z.int().nonnegative()

export const sourceShape = z.object({
  id: count,
  cameraId: count,
  kind: z.enum(SOURCE_KINDS),
  isOn: z.boolean(),
  /** As the kind shows them (services/sources): never with a password. */
  settings: z.record(z.string(), z.unknown()),
  lastTryAt: localTime.nullable(),
  /** When a look last went well. */
  lastOkAt: localTime.nullable(),
  /** Why the last look did not; null where it did. */
  lastReason: z.string().nullable(),
  /** What is to be known of how it goes, such as how many photos were not kept; or null. */
  told: z.string().nullable(),
  /** Looks in a row that failed. */
  failures: count,
  /** Null: at once. */
  nextAt: localTime.nullable(),
  /** Files set aside, the latest first: at most 20 of `asideFiles`. */
  aside: z.array(z.object({ path: z.string(), reason: z.string(), at: localTime })),
  asideFiles: count,
})
export const sourceAnswer = z.object({ source: sourceShape })
export const sourcesAnswer = z.object({ sources: z.array(sourceShape) })

/** What came of a look that was asked for. */
export const triedShape = z.object({
  outcome: z.enum(['well', 'waits', 'failed']),
  /** What is wrong or odd; null where there is nothing to say. */
  words: z.string().nullable(),
  photos: z.array(
    z.object({
      id: count,
      takenAt: localTime,
      clockDoubt: z.string().nullable(),
      /** Why it cannot be read; null where it can. */
      reason: z.string().nullable(),
      /** It had come before. */
      known: z.boolean(),
      smallUrl: z.string(),
    }),
  ),
})
export const tryAnswer = z.object({ tried: triedShape, source: sourceShape })

export const intakeLimitsShape = z.object({
  stillMegabytes: z.number(),
  megapixels: z.number(),
  stillsAMinute: count.nullable(),
  stillsADay: count.nullable(),
})
export const intakeLimitsAnswer = z.object({ limits: intakeLimitsShape })

export type CameraSource = z.output<typeof sourceShape>
export type Tried = z.output<typeof triedShape>
export type SourcesAnswer = z.output<typeof sourcesAnswer>
export type TryAnswer = z.output<typeof tryAnswer>
export type IntakeLimitsAnswer = z.output<typeof intakeLimitsAnswer>
