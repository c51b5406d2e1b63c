/** The shapes of answers about where cameras stood and about times put right. */
import { z } from 'zod'
import { SHIFT_RUNS } from '../store/shift-runs.ts'

const localTime = z.iso.datetime({ offset: true })
const count = z.int().nonnegative()

const timeAtPoint = z.object({
  pointId: count,
  pointName: z.string(),
  /** Null: not known. */
  from: localTime.nullable(),
  /** Null: it stands there still. */
  to: localTime.nullable(),
})
/** Photos that are being put in their places after a change. */
export const placingShape = z.object({
  cameraId: count,
  total: count,
  done: count,
  lastError: z.string().nullable(),
})

/** When a camera stood where, oldest first, and every change of that, the latest first. */
export const cameraTimesAnswer = z.object({
  times: z.array(timeAtPoint),
  changes: z.array(
    z.object({
      at: localTime,
      who: z.string(),
      note: z.string().nullable(),
      before: z.array(timeAtPoint),
      after: z.array(timeAtPoint),
    }),
  ),
  placing: placingShape.nullable(),
})

export const shiftShape = z.object({
  id: count,
  cameraId: count,
  cameraName: z.string(),
  /** The photo of which its true time was said. */
  stillId: count,
  /** By the times the photos came with, both included. */
  fromSaid: localTime,
  toSaid: localTime,
  photos: count,
  /** Added to their times; 0: they are right. */
  seconds: z.number(),
  at: localTime,
  who: z.string(),
  note: z.string().nullable(),
  undone: z.object({ at: localTime, who: z.string() }).nullable(),
})
export const shiftsAnswer = z.object({ shifts: z.array(shiftShape), placing: z.array(placingShape) })
export const shiftAnswer = z.object({ shift: shiftShape })

const movedPhoto = z.object({ stillId: count, before: localTime, after: localTime })
/** What a shift would do; nothing is changed. */
export const shiftPreview = z.object({
  run: z.enum(SHIFT_RUNS),
  cameraName: z.string(),
  photos: count,
  seconds: z.number(),
  /** The photo it was asked of, and the first and the last of its run. */
  photo: movedPhoto,
  first: movedPhoto,
  last: movedPhoto,
  /** Whose clock is in doubt now, and would be then. */
  inDoubt: count,
  inDoubtAfter: count,
})

/** How a photo came to its time. */
export const stillTimeAnswer = z.object({
  takenAt: localTime,
  /** What it came with. */
  saidAt: localTime,
  /** Where clocks were put back the wall clock showed this time twice: the other meaning; else null. */
  otherMeaning: localTime.nullable(),
  /** Those that stand over it, the latest first. */
  shifts: z.array(shiftShape),
  placing: placingShape.nullable(),
})

export type CameraTimesAnswer = z.infer<typeof cameraTimesAnswer>
export type Shift = z.infer<typeof shiftShape>
export type ShiftsAnswer = z.infer<typeof shiftsAnswer>
export type ShiftPreview = z.infer<typeof shiftPreview>
export type StillTimeAnswer = z.infer<typeof stillTimeAnswer>
export type Placing = z.infer<typeof placingShape>
