/** The shape of what is asked about a program that has been. */
import { z } from 'zod'
import { ROUND_LENGTHS } from '../planning/removal-rounds.ts'
import { MOST_SPELL_NIGHTS } from '../planning/worked-spells.ts'

const MAX_INTEGER = 2_147_483_647
const MOST_POINTS = 2_000
const SPELL = { error: `not a whole number of nights from 1 to ${MOST_SPELL_NIGHTS}` }
const spell = z.coerce.number(SPELL).int(SPELL).min(1, SPELL).max(MOST_SPELL_NIGHTS, SPELL).optional()
const SHARE = { error: 'not a share from 1 to 99 per cent' }

/** GET /api/programs/:id/did-it-work */
export const didItWorkQuery = z.strictObject({
  /** Nights of the spells, in place of the usual ones. */
  before: spell,
  after: spell,
  /** Points of the program, by hand: ids with commas between them. */
  points: z
    .string()
    .transform((text) => text.split(',').map(Number))
    .refine(
      (ids) =>
        ids.length <= MOST_POINTS && ids.every((id) => Number.isInteger(id) && id > 0 && id <= MAX_INTEGER),
      {
        error: 'not ids of points with commas between them',
      },
    )
    .optional(),
  /** What a round of removal is. */
  round: z.enum(ROUND_LENGTHS).default('day'),
  /** `equal`: the person says that each round took the same effort, whatever was written down. */
  effort: z.enum(['as written', 'equal']).default('as written'),
  /** To reach with more rounds, per cent of what was there. */
  share: z.coerce.number(SHARE).min(1, SHARE).max(99, SHARE).default(80),
})

export type DidItWorkAsked = z.output<typeof didItWorkQuery>
