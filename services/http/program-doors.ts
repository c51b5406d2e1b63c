/** The shapes of what comes in about programs, their target lists, links to them, and how points are reached. */
import { z } from 'zod'
import { HOME } from '../planning/track-distances.ts'
import { speciesShape } from './shapes.ts'

/** The ledger's four-byte integer. */
const MAX_INTEGER = 2_147_483_647
/** PostgreSQL's text cannot hold a NUL. */
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const line = (most: number) => z.string().trim().min(1).max(most).refine(hasNoNul, noNul)
/** An empty text is no text. */
const text = (most: number) =>
  z
    .string()
    .trim()
    .max(most)
    .refine(hasNoNul, noNul)
    .nullable()
    .transform((value) => value || null)
const pointId = z.int().positive().max(MAX_INTEGER)
/** As for every night: what is worked out around it has four-digit years as well. */
const night = z.iso.date().refine((value) => value >= '1971' && value < '9990', {
  error: 'not a night of the years 1971 to 9989',
})
/** Who says it; people and keys come later. */
const who = line(80).default('station')

/** POST /api/programs */
export const programDoor = z.strictObject({
  name: line(80),
  species: speciesShape,
  /** As the owner names it. */
  method: line(60),
  /** Both included. */
  fromNight: night,
  toNight: night,
  note: text(1_000).default(null),
  who,
})

/** PATCH /api/programs/:id. The species stays: another one is another program. */
export const programChangeDoor = z.strictObject({
  name: line(80).optional(),
  method: line(60).optional(),
  fromNight: night.optional(),
  toNight: night.optional(),
  note: text(1_000).optional(),
  who,
})

/** POST /api/programs/:id/words */
export const programWordDoor = z.strictObject({
  word: z.enum(['finished', 'dropped', 'taken up again']),
  who,
})

const MOST_ON_A_LIST = 500
/** POST /api/programs/:id/target-list: one change, made on the list of that version. */
export const targetEditDoor = z.strictObject({
  version: z.int().min(0).max(MAX_INTEGER),
  edit: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('add'), pointId }),
    z.strictObject({ kind: z.literal('drop'), pointId }),
    z.strictObject({ kind: z.literal('order'), pointIds: z.array(pointId).min(1).max(MOST_ON_A_LIST) }),
    z.strictObject({
      kind: z.literal('note'),
      pointId,
      text: z.string().trim().max(500).refine(hasNoNul, noNul),
    }),
  ]),
  who,
})

/** A list that others hold must not be open for good. */
export const MOST_LINK_DAYS = 56
/** POST /api/programs/:id/links */
export const shareLinkDoor = z.strictObject({
  days: z.int().min(1).max(MOST_LINK_DAYS),
  forWhom: text(80).default(null),
  who,
})

/** PUT /api/points/:id/access */
export const accessDoor = z.strictObject({
  road: text(300).default(null),
  gates: text(300).default(null),
  wetSeason: text(300).default(null),
  turnaround: text(300).default(null),
  who,
})

/** Round the Earth; a slip of the finger is longer. */
const MOST_KM = 40_000
const KM = { error: `not over 0 and at most ${MOST_KM} km` }
const km = z.number(KM).positive(KM).max(MOST_KM, KM)
const place = z.union([z.literal(HOME), pointId])
const MOST_DISTANCES = 2_000
/** POST /api/distances: null kilometres take the owner's word back. */
export const distancesDoor = z.strictObject({
  distances: z
    .array(z.strictObject({ from: place, to: place, km: km.nullable() }))
    .min(1)
    .max(MOST_DISTANCES),
  who,
})

/** A row of POST /api/distances/file, places by their names. */
export const distanceRowDoor = z.strictObject({ from: line(80), to: line(80), km })

/** PUT /api/driving */
export const drivingDoor = z.strictObject({
  kmAnHour: z.number().min(1).max(200),
  minutesAtPoint: z.number().min(0).max(1_440),
})
