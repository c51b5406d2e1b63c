/** The shapes of what comes in about grazing pressure, its ratings, and cattle that are not in to water. */
import { z } from 'zod'
import { RATING_KINDS } from '../tally/load.ts'
import { weekNamed } from '../tally/week-name.ts'
import { SPECIES } from '../words.ts'
import { speciesShape } from './shapes.ts'

const WEEK = { error: 'not the name of a week, such as 2026-W46' }
const FIRST_YEAR = 1971
const LAST_YEAR = 9997
const MAX_INTEGER = 2_147_483_647
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }

/** A week's name, and as the week it is. */
export const weekDoor = z.string().transform((name, context) => {
  const week = weekNamed(name)
  const year = Number(name.slice(0, 4))
  if (week !== null && year >= FIRST_YEAR && year <= LAST_YEAR) return week
  context.addIssue({ code: 'custom', message: WEEK.error })
  return z.NEVER
})

/** GET /api/pressure */
export const pressureQuery = z.strictObject({ week: weekDoor.optional() })

/** GET /api/pressure.csv */
export const pressureCsvQuery = z.strictObject({
  week: weekDoor.optional(),
  /** `units`: what each column is, instead of the numbers. */
  part: z.enum(['numbers', 'units']).default('numbers'),
})

const night = z.iso.date().refine((value) => value >= `${FIRST_YEAR}` && value < `${LAST_YEAR}`, {
  error: `not a night of the years ${FIRST_YEAR} to ${LAST_YEAR - 1}`,
})
/** GET /api/when-they-come: nights, both included. */
export const whenTheyComeQuery = z.strictObject({
  point: z.coerce.number().int().positive().max(MAX_INTEGER),
  species: z.enum(SPECIES),
  /** A second species, to see how far both come at the same hours. */
  other: z.enum(SPECIES).optional(),
  from: night.optional(),
  to: night.optional(),
})

const RATING = { error: 'not a number from 0 to 1,000' }
const MOST_RATING = 1_000
/** PUT /api/ratings: null takes the owner's word back. An animal that never came in to water could not be told by it. */
export const ratingsDoor = z.strictObject({
  ratings: z
    .array(
      z
        .strictObject({
          species: speciesShape,
          kind: z.enum(RATING_KINDS),
          rating: z
            .strictObject({
              low: z.number(RATING).min(0, RATING).max(MOST_RATING, RATING),
              high: z.number(RATING).min(0, RATING).max(MOST_RATING, RATING),
              source: z.string().trim().min(1).max(200).refine(hasNoNul, noNul),
            })
            .nullable(),
        })
        .refine(({ rating }) => rating === null || rating.low <= rating.high, {
          error: 'the low end is above the high end',
          path: ['rating', 'high'],
        })
        .refine(({ kind, rating }) => kind !== 'visits a day' || rating === null || rating.low > 0, {
          error: 'not over 0',
          path: ['rating', 'low'],
        }),
    )
    .min(1)
    .max(SPECIES.length * RATING_KINDS.length),
})

/** POST /api/points/:id/normal: a silence of cattle is normal there. */
export const normalDoor = z.strictObject({
  /** Who says it; people and keys come later. */
  who: z.string().trim().min(1).max(80).refine(hasNoNul, noNul).default('station'),
  note: z.string().max(500).refine(hasNoNul, noNul).optional(),
})
