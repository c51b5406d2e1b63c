/** The shapes of what comes in from a yard: what was taken, and what was done with a trap. */
import { z } from 'zod'
import { FATES } from '../tally/fates.ts'
import { LONGEST_VISIT_HOURS, TRAP_WORDS } from '../tally/trap-visits.ts'
import { instantDoor } from './doors.ts'
import { speciesShape } from './shapes.ts'

const MAX_INTEGER = 2_147_483_647
const MOST_WORDS = 100
/** More than this in one entry is a slip of the finger. */
const MOST_HEAD = 9_999
const MOST_EFFORT = 100_000
const HEAD = { error: `not a whole number of head from 0 to ${MOST_HEAD}` }
const EFFORT = { error: `not a number over 0 and up to ${MOST_EFFORT}` }
const FIRST_DAY = '2000-01-01'

const text = (most: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(most)
    .refine((value) => !value.includes('\0'), { error: 'holds a NUL character' })
export const name = text(80)
export const note = text(500)
export const rowId = z.int().positive().max(MAX_INTEGER)
/** A station date. */
export const dayDoor = z.iso
  .date()
  .refine((value) => value >= FIRST_DAY && value < '9998', { error: `not a day from ${FIRST_DAY} on` })
/** Who says it; people and keys come later. */
export const who = name.default('station')
/** Made by the sender, so that sent twice it is said once. */
export const id = z.uuid()

const head = z.int(HEAD).min(0, HEAD).max(MOST_HEAD, HEAD)

const withdrawn = z.strictObject({ kind: z.literal('withdrawn'), id, withdraws: id, note: note.optional() })

/** POST /api/outcomes */
export const outcomesDoor = z.strictObject({
  who,
  words: z
    .array(
      z.discriminatedUnion('kind', [
        z.strictObject({
          kind: z.literal('taken'),
          id,
          programId: rowId.optional(),
          pointId: rowId,
          species: speciesShape,
          day: dayDoor,
          method: name,
          /** 0: nothing was taken with that effort, which tells how the catch falls. */
          head,
          fate: z.enum(FATES),
          class: name.optional(),
          effort: z
            .strictObject({
              amount: z.number(EFFORT).positive(EFFORT).max(MOST_EFFORT, EFFORT),
              unit: text(40),
            })
            .optional(),
          carrier: name.optional(),
          paper: name.optional(),
          note: note.optional(),
          /** The entry in whose place it stands. */
          withdraws: id.optional(),
        }),
        withdrawn,
      ]),
    )
    .min(1)
    .max(MOST_WORDS),
})

/** POST /api/trap-log */
export const trapLogDoor = z.strictObject({
  who,
  words: z
    .array(
      z.discriminatedUnion('kind', [
        z.strictObject({
          kind: z.enum(TRAP_WORDS),
          id,
          pointId: rowId,
          at: instantDoor,
          /** Head inside afterwards. */
          held: head.optional(),
          heldSince: instantDoor.optional(),
          species: speciesShape.optional(),
          class: name.optional(),
          note: note.optional(),
          withdraws: id.optional(),
        }),
        withdrawn,
      ]),
    )
    .min(1)
    .max(MOST_WORDS),
})

const queryId = z.coerce.number().int().positive().max(MAX_INTEGER)
const spell = { from: dayDoor.optional(), to: dayDoor.optional() }
export const limit = z.coerce.number().int().min(1).max(1_000).default(200)
/** GET /api/outcomes: days are both included. */
export const outcomesQuery = z.strictObject({
  program: queryId.optional(),
  point: queryId.optional(),
  ...spell,
  limit,
})
/** `which`: only what stands, or what was taken back too. */
const which = z.enum(['standing', 'all']).default('standing')
/** GET /api/outcomes.csv */
export const outcomesCsvQuery = z.strictObject({
  program: queryId.optional(),
  point: queryId.optional(),
  ...spell,
  which,
})
/** GET /api/points/:id/trap-log */
export const trapLogQuery = z.strictObject({ limit })
/** GET /api/trap-log.csv */
export const trapLogCsvQuery = z.strictObject({ point: queryId.optional(), ...spell, which })

const HOURS = { error: `not a number of hours from 1 to ${LONGEST_VISIT_HOURS}` }
const hours = z.number(HOURS).min(1, HOURS).max(LONGEST_VISIT_HOURS, HOURS)
/** PUT /api/trap-hours */
export const stationTrapHoursDoor = z.strictObject({ hours })
/** PUT /api/points/:id/trap-hours: null goes by the station's. */
export const pointTrapHoursDoor = z.strictObject({ hours: hours.nullable() })

export type TrapLogWord = z.output<typeof trapLogDoor>['words'][number]
