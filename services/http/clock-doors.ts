/** What comes in about where cameras stood, times put right, and what kept a camera from seeing. */
import { z } from 'zod'
import { TROUBLE_WORDS } from '../store/clock-tables.ts'
import { SHIFT_RUNS } from '../store/shift-runs.ts'
import { instantDoor, nightDoor, rowIdDoor, stillIdDoor } from './doors.ts'

/** The ledger's four-byte integer. */
const MAX_INTEGER = 2_147_483_647
const MOST_TIMES = 200
/** PostgreSQL's text cannot hold a NUL. */
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const who = z.string().trim().min(1).max(80).refine(hasNoNul, noNul).default('station')
const note = z.string().trim().max(500).refine(hasNoNul, noNul).optional()

/** PUT /api/cameras/:id/times: all of them, oldest first. */
export const cameraTimesDoor = z.strictObject({
  times: z
    .array(
      z.strictObject({
        pointId: z.int().positive().max(MAX_INTEGER),
        /** Null: not known; only of the first. */
        from: instantDoor.nullable(),
        /** Null: it stands there still; only of the last. */
        to: instantDoor.nullable(),
      }),
    )
    .min(1)
    .max(MOST_TIMES),
  who,
  note,
})

const run = z.enum(SHIFT_RUNS)
/** GET /api/shifts */
export const shiftsQuery = z.strictObject({ camera: rowIdDoor.optional() })
/** GET /api/shifts/preview: what a shift would do. */
export const shiftPreviewQuery = z.strictObject({
  still: stillIdDoor,
  takenAt: instantDoor,
  run: run.default('photo'),
})
/** POST /api/shifts: this photo was really taken then, and its run as much earlier or later. */
export const shiftDoor = z.strictObject({
  stillId: z.int().positive(),
  takenAt: instantDoor,
  run: run.default('photo'),
  who,
  note,
})
/** POST /api/shifts/:id/undo */
export const undoShiftDoor = z.strictObject({ who, note })

/** POST /api/cameras/:id/troubles/:trouble/words */
export const troubleWordDoor = z.strictObject({
  word: z.enum(TROUBLE_WORDS),
  /** With `set right`: when; now unless given. */
  setRightAt: instantDoor.optional(),
  who,
  note,
})

/** POST /api/points/:id/watching: how much of a night was watched, by a person's word. */
export const watchingDoor = z.strictObject({
  night: nightDoor,
  /** 0 to 1; null takes the word back. */
  share: z.number().min(0).max(1).nullable(),
  who,
  note,
})
/** GET /api/points/:id/watching: nights, both included; at most 400. */
export const watchingQuery = z.strictObject({ from: nightDoor, to: nightDoor })
