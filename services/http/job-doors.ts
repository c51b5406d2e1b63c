/** The shapes of what comes in about jobs. */
import { z } from 'zod'
import { JOB_WORDS, TROUBLES } from '../tally/job-words.ts'
import { id, limit, name, note, rowId, who } from './yard-doors.ts'

/** POST /api/jobs: from a photo, or else at a point. */
export const jobDoor = z
  .strictObject({
    id,
    stillId: z.int().positive().optional(),
    pointId: rowId.optional(),
    trouble: z.enum(TROUBLES),
    who,
    /** Whose job it is. */
    person: name.optional(),
    note: note.optional(),
  })
  .refine(({ stillId, pointId }) => (stillId === undefined) !== (pointId === undefined), {
    error: 'give a photo or a point, not both',
    path: ['pointId'],
  })
  .refine(({ trouble, note }) => trouble !== 'other' || note !== undefined, {
    error: 'say what the trouble is',
    path: ['note'],
  })
/** POST /api/jobs/:id/words */
export const jobWordDoor = z
  .strictObject({ id, word: z.enum(JOB_WORDS), who, person: name.optional(), note: note.optional() })
  .refine(({ word, person }) => word !== 'handed on' || person !== undefined, {
    error: 'say whose job it is now',
    path: ['person'],
  })
  .refine(({ word, note }) => word !== 'note' || note !== undefined, {
    error: 'say something',
    path: ['note'],
  })
/** GET /api/jobs */
export const jobsQuery = z.strictObject({
  which: z.enum(['open', 'all']).default('open'),
  still: z.coerce.number().int().positive().optional(),
  limit,
})
/** A job's id in a path. */
export const jobIdDoor = id
