/** The shapes of the answers about a muster and a time without rain. Numbers have four significant digits. */
import { z } from 'zod'
import { musterFigures } from './muster-doors.ts'
import { intervalShape } from './pressure-shapes.ts'

const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
/** Days from the first, 0; `to` is the day after the last. */
const days = z.object({ from: count, to: count })
const three = z.object({ low: count, expected: count, high: count })
const feedDays = z.object({
  low: z.number().nullable(),
  middle: z.number().nullable(),
  high: z.number().nullable(),
})

export const musterVersionShape = z.object({
  version: z.int().positive(),
  at: localTime,
  who: z.string(),
  note: z.string().nullable(),
})

export const musterAnswer = z.object({
  station: z.string(),
  now: localTime,
  /** The first day without rain. */
  today: night,
  /** Whose figures these are; null: nobody's yet, the usual ones. */
  version: musterVersionShape.nullable(),
  /** The version that stands; 0: none was kept. */
  standing: count,
  versions: z.array(musterVersionShape),
  figures: musterFigures,
  /** The nights that the cattle expected are told from. */
  from: night,
  to: night,
  points: z.array(
    z.object({
      pointId: count,
      name: z.string(),
      hasYard: z.boolean(),
      watchedNights: z.number().nonnegative(),
      visits: count,
      /** Largest group of cattle in one photo. */
      largest: count,
      /** Cattle that drink there on a day by the camera counts; null: not watched. */
      head: intervalShape.nullable(),
    }),
  ),
  plan: z.object({
    head: intervalShape,
    /** Whole days from the first to the last load. */
    days: three,
    loads: three,
    /** First days that end in time; null without a day to end by. */
    latestStart: z.object({ expected: night, high: night }).nullable(),
    steps: z.array(
      z.object({
        pointId: count,
        head: intervalShape,
        fixedYard: z.boolean(),
        km: z.number().nonnegative(),
        decks: count,
        loads: three,
        set: days,
        muster: days,
        trucks: days,
        /** From the first muster to the trough at the other end; null with no load. */
        hoursOffWater: z.object({ firstLoad: z.number(), lastLoad: z.number() }).nullable(),
        overMostHours: z.boolean(),
        hoursALoad: z.number().nonnegative(),
        tooLongADay: z.boolean(),
        /** Still on the station once this step is done. */
        leftBehind: intervalShape,
      }),
    ),
  }),
  notMustered: z.array(z.object({ pointId: count, why: z.enum(['left out', 'not watched', 'no yard']) })),
  feed: z.array(
    z.object({
      pointId: count,
      says: z.enum(['lasts', 'may run out', 'runs out']),
      days: feedDays,
      daysWithoutFeral: feedDays,
      runsOutOn: z.object({ low: night.nullable(), middle: night.nullable() }),
      /** Dry sheep equivalents that the feed would carry for all the days. */
      carries: z.object({ low: z.number().nonnegative(), high: z.number().nonnegative() }),
    }),
  ),
  feedNotTold: z.array(z.object({ pointId: count, why: z.enum(['no feed given', 'not watched']) })),
})

export type MusterAnswerShape = z.infer<typeof musterAnswer>
export type MusterStepShape = MusterAnswerShape['plan']['steps'][number]
export type MusterFiguresShape = z.infer<typeof musterFigures>
