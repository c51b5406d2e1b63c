/** The shapes of what comes in about counts from notebooks; a file's rows are read in past-counts-file.ts. */
import { z } from 'zod'
import { weekDoor } from './pressure-doors.ts'

const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const line = z.string().trim().min(1).max(120).refine(hasNoNul, noNul)
/** Who says it; people and keys come later. */
const who = line.default('station')

/** POST /api/past-counts?name=...: the file is the body. */
export const pastCountsFileQuery = z.strictObject({ name: line.default('notebook.csv'), who })

/** DELETE /api/past-counts/:id */
export const pastCountsWithdrawQuery = z.strictObject({ who })

/** GET /api/past-counts/compared */
export const pastCountsComparedQuery = z.strictObject({ week: weekDoor.optional() })
