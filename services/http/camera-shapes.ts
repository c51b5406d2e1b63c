/** The shapes of answers about how cameras are and how nights were watched. */
import { z } from 'zod'
import { TROUBLE_KINDS, TROUBLE_WORDS } from '../store/clock-tables.ts'
import { NOT_WATCHED_BECAUSE } from '../tally/why-not-watched.ts'
import { cameraShape } from './shapes.ts'

const localTime = z.iso.datetime({ offset: true })
const count = z.int().nonnegative()
const share = z.number().min(0).max(1)

/** A stretch in which a camera spoke and could not see. */
export const troubleShape = z.object({
  id: count,
  kind: z.enum(TROUBLE_KINDS),
  from: localTime,
  /** Null: it goes on. */
  to: localTime.nullable(),
  /** The first photo that shows it; null where none does. */
  stillId: count.nullable(),
  /** A person said that nothing was wrong: it counts as watched. */
  isFine: z.boolean(),
  /** What was said of it, the latest first. */
  words: z.array(
    z.object({
      word: z.enum(TROUBLE_WORDS),
      at: localTime,
      who: z.string(),
      setRightAt: localTime.nullable(),
      note: z.string().nullable(),
    }),
  ),
})
export const troubleAnswer = z.object({ trouble: troubleShape })

export const CAMERA_STATES = ['watching', 'new', 'down', 'taken down', ...TROUBLE_KINDS] as const

export const cameraWatchShape = z.object({
  camera: cameraShape,
  pointName: z.string(),
  state: z.enum(CAMERA_STATES),
  /** Since when, where that is known. */
  since: localTime.nullable(),
  lastPhoto: z.object({ stillId: count, takenAt: localTime, smallUrl: z.string() }).nullable(),
  battery: z.object({ percent: z.number(), at: localTime }).nullable(),
  cardRoom: z.object({ bytes: z.number(), at: localTime }).nullable(),
  /** Over the last seven days, unreadable files included. */
  photosADay: z.number().nonnegative(),
  /** Of the files of the last seven days; `rise`: more than its own past explains (tally/unreadable-rise.ts). */
  unreadable: z.object({ files: count, of: count, rise: z.boolean() }),
  /** Photos of the last seven days whose clock is in doubt, and what is said of most of them. */
  clock: z.object({ inDoubt: count, why: z.string().nullable(), stillId: count.nullable() }),
  /** The latest five, the newest first. */
  troubles: z.array(troubleShape),
})
export const cameraWatchAnswer = z.object({ now: localTime, cameras: z.array(cameraWatchShape) })

/** How the nights of a point were watched. */
export const watchingAnswer = z.object({
  nights: z.array(
    z.object({
      night: z.iso.date(),
      from: localTime,
      to: localTime,
      /** Of what is known of it; null where nothing is. */
      watched: share.nullable(),
      /** By a person's word. */
      byHand: z.boolean(),
      /** Every word on it, the latest first; a share of null took the one before back. */
      words: z.array(
        z.object({ share: share.nullable(), at: localTime, who: z.string(), note: z.string().nullable() }),
      ),
      /** What kept cameras from watching what no camera watched, the longest first. */
      notWatched: z.array(
        z.object({ camera: z.string(), why: z.enum(NOT_WATCHED_BECAUSE), hours: z.number().nonnegative() }),
      ),
    }),
  ),
})

export type Trouble = z.infer<typeof troubleShape>
export type CameraState = (typeof CAMERA_STATES)[number]
export type CameraWatch = z.infer<typeof cameraWatchShape>
export type CameraWatchAnswer = z.infer<typeof cameraWatchAnswer>
export type WatchingAnswer = z.infer<typeof watchingAnswer>
