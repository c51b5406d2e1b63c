/** The shapes of the answers about yards: what was taken, traps and their log, jobs. */
import { z } from 'zod'
import { FATES } from '../tally/fates.ts'
import { TROUBLES } from '../tally/job-words.ts'
import { TRAP_WORDS } from '../tally/trap-visits.ts'
import { SPECIES } from '../words.ts'
import { trapShape } from './trap-shapes.ts'

const count = z.int().nonnegative()
const localTime = z.iso.datetime({ offset: true })
const species = z.enum(SPECIES)
const text = z.string().nullable()

/** The later word that took an entry back, or stands in its place; null for one that stands. */
const takenBack = z
  .object({ by: z.string(), who: z.string(), at: localTime, note: text, corrected: z.boolean() })
  .nullable()

export const outcomeShape = z.object({
  id: z.uuid(),
  programId: count.nullable(),
  programName: text,
  pointId: count,
  pointName: z.string(),
  species,
  /** Station date. */
  day: z.iso.date(),
  method: z.string(),
  /** 0: nothing was taken with that effort. */
  head: count,
  fate: z.enum(FATES),
  class: text,
  effort: z.object({ amount: z.number().positive(), unit: z.string() }).nullable(),
  carrier: text,
  paper: text,
  note: text,
  who: z.string(),
  saidAt: localTime,
  insteadOf: z.uuid().nullable(),
  takenBack,
})
const sumShape = z.object({ species, fate: z.enum(FATES), head: z.int().positive() })
export const outcomesAnswer = z.object({
  /** Latest day first; what was taken back or corrected stands here too. */
  outcomes: z.array(outcomeShape),
  /** Of what stands. */
  sums: z.array(sumShape),
})

export const trapEntryShape = z.object({
  id: z.uuid(),
  kind: z.enum(TRAP_WORDS),
  pointId: count,
  pointName: z.string(),
  at: localTime,
  held: count.nullable(),
  heldSince: localTime.nullable(),
  species: species.nullable(),
  class: text,
  note: text,
  who: z.string(),
  saidAt: localTime,
  insteadOf: z.uuid().nullable(),
  takenBack,
})
export const trapLogAnswer = z.object({ trap: trapShape.nullable(), log: z.array(trapEntryShape) })

export const trapHoursAnswer = z.object({
  /** Never more than 24. */
  stationHours: z.number(),
  points: z.array(z.object({ pointId: count, hours: z.number() })),
})

/** Traps that are set or hold head, what is due first, then the others in use. */
export const yardSheetAnswer = z.object({
  now: localTime,
  station: z.string(),
  traps: z.array(
    z.object({ pointId: count, pointName: z.string(), kind: z.string(), km: z.number(), trap: trapShape }),
  ),
})

const texts = z.array(z.string()).readonly()
/** What the form at the yard offers; nothing of how water or a trap stands. */
export const yardFormAnswer = z.object({
  now: localTime,
  zone: z.string(),
  /** In run order. */
  points: z.array(z.object({ id: count, name: z.string(), hasYard: z.boolean() })),
  programs: z.array(
    z.object({
      id: count,
      name: z.string(),
      species,
      method: z.string(),
      fromNight: z.iso.date(),
      toNight: z.iso.date(),
      /** On its target list. */
      pointIds: z.array(count),
    }),
  ),
  /** Typed before, the latest first. */
  typed: z.object({ methods: texts, classes: texts, carriers: texts, units: texts }),
})

const jobWordShape = z.object({
  word: z.string(),
  who: z.string(),
  at: localTime,
  person: text,
  note: text,
})
export const jobShape = z.object({
  id: z.uuid(),
  pointId: count,
  pointName: z.string(),
  photo: z.object({ stillId: count, takenAt: localTime, smallUrl: z.string() }).nullable(),
  trouble: z.enum(TROUBLES),
  open: z.boolean(),
  /** Whose job it is. */
  person: text,
  /** The note it was asked for with. */
  note: text,
  askedBy: z.string(),
  askedAt: localTime,
  /** `done`, or `not needed`. */
  ended: z.object({ word: z.string(), who: z.string(), at: localTime }).nullable(),
  /** Everything that was said of it, in order. */
  words: z.array(jobWordShape),
})
/** The ids that were sent: each of these words is written down. */
export const saidAnswer = z.object({ said: z.array(z.uuid()) })

export const jobAnswer = z.object({ job: jobShape })
export const jobsAnswer = z.object({ jobs: z.array(jobShape) })

export type OutcomeAnswer = z.infer<typeof outcomeShape>
export type OutcomesAnswer = z.infer<typeof outcomesAnswer>
export type TrapEntryAnswer = z.infer<typeof trapEntryShape>
export type TrapLogAnswer = z.infer<typeof trapLogAnswer>
export type TrapHoursAnswer = z.infer<typeof trapHoursAnswer>
export type YardSheetAnswer = z.infer<typeof yardSheetAnswer>
export type YardFormAnswer = z.infer<typeof yardFormAnswer>
export type Job = z.infer<typeof jobShape>
export type JobsAnswer = z.infer<typeof jobsAnswer>
