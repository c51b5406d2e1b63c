/** The shape of how a trap stands: on the water run, on a point's page, on the sheet. */
import { z } from 'zod'
import { SPECIES } from '../words.ts'

const localTime = z.iso.datetime({ offset: true })

export const trapShape = z.object({
  /** Null where only visits are known. */
  state: z.enum(['open', 'set', 'shut down']).nullable(),
  /** Since when it is so. */
  at: localTime.nullable(),
  /** When somebody was last there. A look through a camera is not a visit. */
  visitedAt: localTime,
  visitedBy: z.string(),
  /** To be visited within so many hours of the last visit while it is set or holds head. */
  visitHours: z.number().positive(),
  /** Null for one that is not set and holds nothing. */
  dueBy: localTime.nullable(),
  overdue: z.boolean(),
  /** Head inside when somebody was last there. */
  held: z
    .object({
      head: z.int().positive(),
      since: localTime.nullable(),
      species: z.enum(SPECIES).nullable(),
      class: z.string().nullable(),
    })
    .nullable(),
})
export type TrapAnswer = z.infer<typeof trapShape>
