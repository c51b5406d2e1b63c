/** The shapes of what comes in about blind looks and about how right the camera count is. */
import { z } from 'zod'
import { SPECIES } from '../words.ts'
import { speciesShape } from './shapes.ts'

const MOST_LOOKS_A_WEEK = 200
const MOST_HEAD = 999
/** As many as a look has at most (services/tally/looks.ts), with room for the future. */
const MOST_PHOTOS = 100
const MOST_WEEKS = 52
const USUAL_WEEKS = 8
const LOOKS = { error: `not a whole number of looks from 0 to ${MOST_LOOKS_A_WEEK}` }
const WEEKS = { error: `not a whole number of weeks from 1 to ${MOST_WEEKS}` }

/** PUT /api/audits */
export const auditSettingDoor = z.strictObject({
  looksAWeek: z.int(LOOKS).min(0, LOOKS).max(MOST_LOOKS_A_WEEK, LOOKS),
})

/** GET /api/audits/looks */
export const openLooksQuery = z.strictObject({
  limit: z.coerce.number().int().min(1).max(20).default(3),
})

/** POST /api/audits/looks/:id */
export const lookWordsDoor = z.strictObject({
  who: z
    .string()
    .trim()
    .min(1)
    .max(80)
    .refine((value) => !value.includes('\0'), { error: 'holds a NUL character' })
    .default('station'),
  words: z
    .array(
      z.strictObject({
        stillId: z.int().positive(),
        /** Head of each species; `{}`: nothing there. Null takes the words on the whole look back. */
        counts: z.partialRecord(speciesShape, z.int().min(0).max(MOST_HEAD)).nullable(),
      }),
    )
    .min(1)
    .max(MOST_PHOTOS),
})

/** GET /api/evidence */
export const evidenceQuery = z.strictObject({
  weeks: z.coerce.number(WEEKS).int(WEEKS).min(1, WEEKS).max(MOST_WEEKS, WEEKS).default(USUAL_WEEKS),
})

/** GET /api/evidence/marks */
export const marksQuery = z.strictObject({ species: z.enum(SPECIES), weeks: evidenceQuery.shape.weeks })
