/** The shapes of the answers about trap yards. Numbers have four significant digits; null is never none. */
import { z } from 'zod'
import { MOON_PHASES } from '../planning/moon.ts'
import { OTHER_WATER_LACKS, OTHER_WATER_STATES } from '../planning/other-water.ts'
import { WATER_USES } from '../planning/waters-used.ts'
import { intervalShape } from './pressure-shapes.ts'
import { roleShape, speciesShape } from './shapes.ts'

const id = z.int().positive()
const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
const part = z.number().min(0).max(1)
const head = z.number().nonnegative()
const ids = z.array(id)
const spell = z.object({ from: night, to: night })
/** Head at a water: low if each drink falls on a water by chance, high if every animal keeps to one, or the other way. */
const headAt = z.object({ pointId: id, low: head, high: head })

export const dailyRangeShape = z.object({
  species: speciesShape,
  km: z.number().positive(),
  source: z.string(),
  /** No handbook value was found: check locally. */
  fromMemory: z.boolean(),
  own: z.boolean(),
})

export const yardMeansShape = z.object({
  portableYards: count,
  nightsSet: id,
  openWeeks: count,
  checkingWeeks: count,
  /** Null: nobody has said it; these are the usual. */
  saidAt: localTime.nullable(),
})

const lackShape = z.enum(OTHER_WATER_LACKS)

export const trainingShape = z.object({
  /** Null: nobody has seen it used; the days begin with its first use. */
  firstUsed: z.object({ on: night, by: z.enum(['said', 'trap open', 'yard there']) }).nullable(),
  stage: z.enum(['not used yet', 'gates open', 'one-way gates', 'ready to set']),
  days: z.array(
    z.object({
      on: night,
      step: z.enum(['tie gates open', 'look at tracks', 'hang one-way gates', 'set the trap']),
    }),
  ),
})

export const yardPointShape = z.object({
  pointId: id,
  name: z.string(),
  lat: z.number(),
  lon: z.number(),
  hasYard: z.boolean(),
  trap: z.enum(['open', 'set', 'shut down']).nullable(),
  /** Its water was last said to be off or dry. */
  withoutWater: z.boolean(),
  use: z.enum(WATER_USES),
  watchedNights: z.number().nonnegative(),
  visits: count,
  /** Animal-visits a watched night; null: not watched. */
  rate: intervalShape.nullable(),
  otherWater: z.object({
    state: z.enum(OTHER_WATER_STATES),
    at: localTime.nullable(),
    who: z.string().nullable(),
    openPointIds: ids,
    elsewhere: z.string().nullable(),
  }),
  /** What it lacks before it is proposed for closing; null: nothing. */
  lack: lackShape.nullable(),
  /** Points whose other water it is. */
  keptOpenFor: ids,
  training: trainingShape,
})

const followedShape = z.object({
  says: z.enum(['seen to move', 'no more than by chance', 'too few nights']),
  moves: count,
  byChance: z.number().nullable(),
  p: part.nullable(),
  nights: count,
})

export const yardClusterShape = z.object({
  clusterId: id,
  pointIds: ids,
  /** Head that drink there; null: none of its waters was watched. */
  head: intervalShape.nullable(),
  pairs: z.array(
    z.object({
      pointIds: z.tuple([id, id]),
      km: z.number(),
      /** Null: by distance only. */
      followed: followedShape.nullable(),
    }),
  ),
  /** Not watched enough to say that none come. */
  unsureIds: ids,
  /** Within the daily range, watched, and none seen: they stay open. */
  nearby: z.array(z.object({ pointId: id, km: z.number() })),
  lacks: z.array(z.object({ pointId: id, lack: lackShape })),
  /** Where it needs portable yards, and how many more than are left. */
  needAt: ids,
  yardsShort: count,
  says: z.enum(['close it whole', 'yards short', 'other water not sure', 'none seen']),
})

const meetShape = z.object({
  /** Portable yards in the order of what each adds, and yards that stand and are set as well. */
  portableAt: ids,
  standingAt: ids,
  met: intervalShape,
  /** The middle again if every animal keeps to one water. */
  metIfKeeping: head,
  notMet: intervalShape,
  /** Head of all groups. */
  of: intervalShape,
  how: z.enum(['every choice tried', 'step by step']),
  atLeastOfBest: part,
  oneMore: headAt.nullable(),
  shiftsTo: z.array(headAt),
})

export const trapYardsAnswer = z.object({
  station: z.string(),
  now: localTime,
  today: night,
  homestead: z.object({ lat: z.number(), lon: z.number() }),
  species: speciesShape,
  /** All of them, with the animal-visits of the nights looked at. */
  choices: z.array(z.object({ species: speciesShape, role: roleShape, animalVisits: count })),
  lookedAt: spell,
  nights: count,
  /** Photos of these nights that are still being read. */
  waiting: count,
  /** Head taken for good since the first of these nights: still in the counts of the nights before. */
  taken: z.array(z.object({ pointId: id, head: id })),
  means: yardMeansShape,
  range: dailyRangeShape,
  ranges: z.array(dailyRangeShape),
  /** How often a day an animal comes in to water. */
  visitsADay: z.object({ low: z.number(), high: z.number(), fromMemory: z.boolean() }),
  /** How much more than by chance visits vary from night to night; null: not enough nights to tell. */
  dispersion: z.number().min(1).nullable(),
  points: z.array(yardPointShape),
  clusters: z.array(yardClusterShape),
  close: z.object({
    clusterIds: ids,
    portableAt: ids,
    standingAt: ids,
    head: intervalShape,
    yardsLeft: count,
  }),
  /** Null: there is nothing to set, or none were seen. */
  meet: meetShape.nullable(),
})

export const yardTryAnswer = z.object({
  species: speciesShape,
  lookedAt: spell,
  pointIds: ids,
  /** Portable yards that it takes. */
  portableAt: ids,
  met: intervalShape,
  /** The middle again if every animal keeps to one water. */
  metIfKeeping: head,
  notMet: intervalShape,
  /** Head of the clusters that it touches. */
  of: intervalShape,
  closedWhole: ids,
  /** Clusters that it touches and leaves open, and where. */
  leftOpen: z.array(z.object({ clusterId: id, openIds: ids })),
  shiftsTo: z.array(headAt),
  oneMore: headAt.nullable(),
  lacks: z.array(z.object({ pointId: id, lack: lackShape })),
})

const shareShape = z.object({
  share: part,
  /** Null under 28 nights. */
  interval: z.object({ low: part, high: part }).nullable(),
  visits: count,
})

export const gateHoursAnswer = z.object({
  species: speciesShape,
  pointIds: ids,
  lookedAt: spell,
  cattleShare: part,
  mostHours: z.number(),
  /** The hours were a person's. */
  byHand: z.boolean(),
  answer: z.discriminatedUnion('kind', [
    z.object({
      kind: z.literal('window'),
      /** Station hours. */
      from: z.number(),
      to: z.number(),
      hours: z.number(),
      target: shareShape,
      /** Null: cattle came too seldom to know their hours, and the bound was not kept. */
      cattle: shareShape.nullable(),
      cattleVisits: count,
      cattleHeadANight: intervalShape.nullable(),
      nights: count,
    }),
    z.object({ kind: z.literal('too few visits'), visits: count, least: count }),
    z.object({ kind: z.literal('no window') }),
  ]),
  /** Part of the visits in an hour like this one, at each ten minutes from midnight; null under ten visits. */
  curves: z.object({ target: z.array(z.number()).nullable(), cattle: z.array(z.number()).nullable() }),
  /** Empty without hours. */
  days: z.array(
    z.object({
      on: night,
      setAt: localTime,
      shutAt: localTime,
      /** The least visits of people to each trap. */
      visits: count,
      sky: z.object({
        lit: part,
        phase: z.enum(MOON_PHASES),
        sunset: localTime.nullable(),
        sunrise: localTime.nullable(),
        moonrise: localTime.nullable(),
        moonset: localTime.nullable(),
      }),
    }),
  ),
  /** To all traps on all days, at least. */
  visits: count,
})

export const keptPlanShape = z.object({
  planId: id,
  version: id,
  at: localTime,
  who: z.string(),
  withdrawn: z.boolean(),
  plan: z.object({
    name: z.string(),
    species: speciesShape,
    pointIds: ids,
    fromNight: night,
    nights: id,
    hours: z.object({ from: z.number(), to: z.number() }).nullable(),
    cattleShare: part,
    note: z.string().nullable(),
  }),
  shown: z.object({
    met: intervalShape,
    /** The middle again if every animal keeps to one water. */
    metIfKeeping: head,
    notMet: intervalShape,
    of: intervalShape,
    closedWhole: z.boolean(),
    shiftsTo: z.array(headAt),
    lookedAt: spell,
  }),
})
export const yardPlansAnswer = z.object({ plans: z.array(keptPlanShape) })
/** Every version, the latest first. */
export const yardPlanAnswer = z.object({ versions: z.array(keptPlanShape).min(1) })

export type TrapYardsAnswer = z.infer<typeof trapYardsAnswer>
export type YardPoint = z.infer<typeof yardPointShape>
export type YardClusterAnswer = z.infer<typeof yardClusterShape>
export type YardTryAnswer = z.infer<typeof yardTryAnswer>
export type GateHoursAnswer = z.infer<typeof gateHoursAnswer>
export type KeptPlan = z.infer<typeof keptPlanShape>
export type YardPlansAnswer = z.infer<typeof yardPlansAnswer>
export type YardPlanAnswer = z.infer<typeof yardPlanAnswer>
