/** The shape of a person's words on photos as they come in (POST /api/checks). */
import { z } from 'zod'
import { MARKS } from '../words.ts'
import { speciesShape } from './shapes.ts'

/** More than this in one photo is a slip of the finger. */
const MOST_HEAD = 999
const MOST_WORDS = 500
const MOST_KINDS = 20
const MOST_BOXES = 100
/** As in a result: no photo is as wide. */
const MOST_SIDE_PX = 1_000_000

const stillId = z.int().positive()
const marks = z.array(z.enum(MARKS)).max(MARKS.length)
const kindName = z
  .string()
  .trim()
  .min(1)
  .max(40)
  .refine((value) => !value.includes('\0'), { error: 'holds a NUL character' })
const side = z.number().min(0).max(MOST_SIDE_PX)
const drawnBox = z.strictObject({
  species: speciesShape,
  /** Pixels of the photo: left, top, right, bottom. */
  box: z
    .tuple([side, side, side, side])
    .refine(([x0, y0, x1, y1]) => x1 > x0 && y1 > y0, { error: 'not left, top, right, bottom' }),
})
/** Left out: as they stood. */
const beside = { marks: marks.optional(), boxes: z.array(drawnBox).max(MOST_BOXES).optional() }

export const photoWordsDoor = z
  .array(
    z.discriminatedUnion('verdict', [
      z.strictObject({ stillId, verdict: z.literal('agreed'), ...beside }),
      z.strictObject({
        stillId,
        verdict: z.literal('corrected'),
        /** Head of each species in this photo; an absent species is not there. `{}`: nothing there. */
        counts: z.partialRecord(speciesShape, z.int().min(0).max(MOST_HEAD)),
        /** Head of kinds of the station's own, by name. */
        others: z
          .record(kindName, z.int().min(1).max(MOST_HEAD))
          .refine((kinds) => Object.keys(kinds).length <= MOST_KINDS, {
            error: `more than ${MOST_KINDS} kinds`,
          })
          .optional(),
        ...beside,
      }),
      z.strictObject({ stillId, verdict: z.literal('marked'), marks }),
      z.strictObject({ stillId, verdict: z.literal('withdrawn') }),
    ]),
  )
  .min(1)
  .max(MOST_WORDS)
