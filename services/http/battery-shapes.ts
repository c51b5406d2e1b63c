/** The shapes of answers about cameras' batteries. */
import { z } from 'zod'

const count = z.int().nonnegative()
const date = z.iso.date()

export const batteryShape = z.object({
  cameraId: count,
  cameraName: z.string(),
  pointId: count,
  /** The lowest reading of the last day that has one. */
  percent: z.number(),
  on: date,
  /** At or under what cameras need. */
  isFlat: z.boolean(),
  /** Where it falls: when it will be flat, and the soonest and latest it may be (95 %; latest null: later than can be told). */
  flat: z
    .object({
      on: date,
      soonest: date,
      latest: date.nullable(),
      inDays: count,
      percentADay: z.number(),
      /** With readings, that it rests on. */
      days: count,
    })
    .nullable(),
  /** Why nothing is foretold; null where it is. */
  because: z.string().nullable(),
})
export const batteriesAnswer = z.object({
  /** Flat, in per cent. */
  flatPercent: z.number(),
  batteries: z.array(batteryShape),
})

export type Battery = z.output<typeof batteryShape>
export type BatteriesAnswer = z.output<typeof batteriesAnswer>
