/** What comes in about how cameras' photos are fetched, and how many are taken. */
import { z } from 'zod'
import { MAX_STILL_BYTES } from '../intake/receive-still.ts'
import { MAX_PICTURE_MEGAPIXELS } from '../picture-formats.ts'
import { SOURCE_KINDS } from '../words.ts'

/** What a kind must be told, parsed by the kind itself (services/sources). */
const settings = z.record(z.string(), z.unknown())

/** POST /api/cameras/:id/sources */
export const sourceDoor = z.strictObject({
  kind: z.enum(SOURCE_KINDS),
  isOn: z.boolean().default(true),
  settings,
})

/** PATCH /api/cameras/:id/sources/:source: of the settings only what changes. */
export const sourceChangeDoor = z.strictObject({ isOn: z.boolean(), settings }).partial()

const perCamera = z.int().positive().max(1_000_000).nullable()
/** PUT /api/intake-limits */
export const intakeLimitsDoor = z.strictObject({
  stillMegabytes: z
    .number()
    .min(0.1)
    .max(MAX_STILL_BYTES / 1024 / 1024),
  megapixels: z.number().min(0.1).max(MAX_PICTURE_MEGAPIXELS),
  stillsAMinute: perCamera,
  stillsADay: perCamera,
})
