/** The shapes of the answers about counts from notebooks. They are in no other answer. */
import { z } from 'zod'
import { roleShape, speciesShape } from './shapes.ts'

const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
const number = z.number().nonnegative()

export const pastCountFileShape = z.object({
  id: z.int(),
  name: z.string(),
  who: z.string(),
  at: localTime,
  /** Rows. */
  counts: count,
  points: count,
  firstNight: night,
  lastNight: night,
  /** Null while it stands. */
  withdrawnAt: localTime.nullable(),
  withdrawnBy: z.string().nullable(),
})
export type PastCountFile = z.infer<typeof pastCountFileShape>
export const pastCountFilesAnswer = z.object({ files: z.array(pastCountFileShape) })
export const pastCountFileAnswer = z.object({
  file: pastCountFileShape,
  /** The same file had been given before: nothing was added. */
  known: z.boolean(),
})

export const pastCountShape = z.object({
  night,
  species: speciesShape,
  role: roleShape,
  /** The most seen at once; 0: somebody looked and saw none. */
  head: count,
  /** Null: the notebook does not say. */
  visits: count.nullable(),
  /** Part of the night that was watched; null: the notebook does not say. */
  watched: z.number().min(0).max(1).nullable(),
  note: z.string().nullable(),
  file: z.string(),
})
export type PastCount = z.infer<typeof pastCountShape>
/** From a notebook, the latest night first. */
export const pastCountsAnswer = z.object({ counts: z.array(pastCountShape) })

const side = {
  /** Mean of the nights' most at once, over nights watched for half or more; null where there is none. */
  headANight: number.nullable(),
  headNights: count,
  /** The most at once in any night. */
  most: count,
  visits: count.nullable(),
  watchedNights: number.nullable(),
}
export const pastCountsComparedAnswer = z.object({
  week: z.string(),
  /** What cameras counted: the week and the four before. */
  cameras: z.object({ from: night, to: night }),
  /** What is held against it; null where no notebook tells of nights before. */
  notebook: z
    .object({
      from: night,
      to: night,
      /** The same weeks so many years before; null: another season. */
      yearsBack: z.int().positive().nullable(),
      /** Names of the files. */
      files: z.array(z.string()),
    })
    .nullable(),
  /** Points and species of which the notebook tells, feral first. */
  rows: z.array(
    z.object({
      pointId: z.int(),
      pointName: z.string(),
      species: speciesShape,
      role: roleShape,
      notebook: z.object({ ...side, nights: count, nightsSeen: count }),
      cameras: z.object(side),
      /** Of visits per watched night, cameras against notebook; null where the notebook tells none. */
      change: z
        .object({
          verdict: z.enum(['more', 'fewer', 'worth a look', 'no clear change', 'too few nights to tell']),
          ratio: number.nullable(),
          low: number.nullable(),
          high: number.nullable(),
        })
        .nullable(),
    }),
  ),
})
export type PastCountsCompared = z.infer<typeof pastCountsComparedAnswer>
