/** What comes in about the station's own animals: its kinds, and the names it has learned. */
import { z } from 'zod'
import { SPECIES } from '../words.ts'

/** The ledger's four-byte integer. */
const MAX_INTEGER = 2_147_483_647
const version = z.int().positive().max(MAX_INTEGER)

/** POST /api/kinds, and a kind's name in a path. */
export const kindDoor = z.strictObject({
  name: z
    .string()
    .trim()
    .min(1)
    .max(40)
    .refine((value) => !value.includes('\0'), { error: 'holds a NUL character' }),
})

/** PUT /api/namers: what is left out stays as it is. */
export const namersDoor = z.strictObject({
  isOn: z.boolean().optional(),
  takesNew: z.boolean().optional(),
  /** A version that named better when it was tried. */
  use: version.optional(),
  /** Species that never come to this station. */
  absent: z.array(z.enum(SPECIES)).max(SPECIES.length).optional(),
})

/** GET /api/namers/crops: the latest version unless one is given. */
export const namerCropsQuery = z.strictObject({
  version: z.coerce.number().int().positive().max(MAX_INTEGER).optional(),
})
