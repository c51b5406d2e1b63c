/** The shapes of the answer to: did it work? Numbers have four significant digits; null is never none. */
import { z } from 'zod'
import { FATES } from '../tally/fates.ts'
import { STATE_KINDS } from '../words.ts'
import { intervalShape } from './pressure-shapes.ts'
import { speciesShape } from './shapes.ts'

const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
const part = z.number().min(0).max(1)
/** Nights, both included. */
const nights = z.object({ from: night, to: night })
const spellCount = z.object({ visits: count, watchedNights: z.number().nonnegative() })

/** After against before. */
const changeShape = z.object({
  verdict: z.enum(['more', 'fewer', 'worth a look', 'no clear change', 'too few nights to tell']),
  /** Null: nothing before (ratio), no limit (high), or one of the spells not watched. */
  ratio: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  p: part.nullable(),
  /** p corrected for the number of comparisons. */
  correctedP: part.nullable(),
})

const pointShape = z.object({
  pointId: count,
  name: z.string(),
  part: z.enum(['program', 'neighbour']),
  /** To the nearest point of the program; 0 for its own. */
  km: z.number().nonnegative(),
  before: spellCount.extend({ largest: count }),
  after: spellCount.extend({ largest: count }),
  change: changeShape,
  /** The same nights of the year before; null without such a past. */
  lastYear: z.object({ before: spellCount, after: spellCount }).nullable(),
  /** Words on the point: the spells compared may be unlike. */
  states: z.array(z.object({ kind: z.enum(STATE_KINDS), at: localTime })),
  /** Photos of both spells that are still being read, and flagged ones that nobody has looked at. */
  waiting: count,
  toCheck: count,
})

const takenAt = z.object({ head: count, released: count })

const refusedShape = z.object({
  kind: z.literal('refused'),
  why: z.enum([
    'too few rounds',
    'too few head',
    'effort differs',
    'animals came back',
    'catch not falling',
    'chance of being caught changed',
  ]),
})

const removalShape = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('none'),
    why: z.enum(['nothing taken', 'several methods', 'effort not given', 'efforts in several units']),
  }),
  z.object({
    kind: z.literal('rounds'),
    /** Null: equal by the person's word. */
    unit: z.string().nullable(),
    rounds: z.array(nights.extend({ head: count, cameBack: count, effort: z.number().positive() })),
    /** Rounds of equal effort: from the falling catch. */
    equal: z.union([
      refusedShape,
      z.object({
        kind: z.literal('estimate'),
        head: count,
        standardError: z.number().nonnegative(),
        low: count,
        /** Null: nobody can say how many at most. */
        high: count.nullable(),
        caught: count,
        /** The chance that one of them is caught in a round. */
        chance: part,
        byZippin: z.number().positive(),
        /** That catches fit a steady chance no better. */
        fitP: part,
        /** To reach the share asked for; null at the high end: nobody can say. */
        moreRounds: z.object({ expected: count, atHigh: count.nullable() }),
      }),
    ]),
    /** Rounds of unequal effort: from the falling catch per effort. */
    unequal: z.union([
      refusedShape,
      z.object({
        kind: z.literal('estimate'),
        head: z.number().nonnegative(),
        low: z.number().nonnegative(),
        high: z.number().nonnegative(),
        caught: count,
        /** The part of those left that one unit of effort takes. */
        perEffort: z.number().positive(),
      }),
    ]),
  }),
])

export const didItWorkAnswer = z.object({
  station: z.string(),
  now: localTime,
  program: z.object({
    id: count,
    name: z.string(),
    species: speciesShape,
    method: z.string(),
    fromNight: night,
    toNight: night,
    finished: z.boolean(),
    dropped: z.boolean(),
  }),
  /** The program's own days, outcomes outside its window included; in neither spell. */
  own: nights,
  before: nights,
  /** Null while no night after the program is over. */
  after: nights.nullable(),
  lastYear: z.object({ before: nights, after: nights }).nullable(),
  says: z.enum([
    'fewer here',
    'fewer here, more next door',
    'fewer here, as last year',
    'no clear change',
    'more than before',
    'too few nights to tell',
    /** Nobody can compare yet. */
    'photos still being read',
  ]),
  /** All points of the program as one, and all their neighbours. */
  change: z.object({ program: changeShape.nullable(), neighbours: changeShape.nullable() }),
  /** This year's ratio of after to before over last year's; null without a past. */
  season: z.object({ ratio: z.number(), low: z.number(), high: z.number() }).nullable(),
  /** How far apart waters may lie for the same animals to use both. */
  range: z.object({
    km: z.number().positive(),
    source: z.string(),
    fromMemory: z.boolean(),
    own: z.boolean(),
  }),
  /** How much more than by chance visits vary from night to night; null: not enough nights to tell. */
  dispersion: z.number().min(1).nullable(),
  points: z.array(pointShape),
  /** The target list that stood when the program began, or the first one if none did; null without one. */
  expected: z
    .object({
      version: count,
      at: localTime,
      /** Made once the program had begun. */
      late: z.boolean(),
      nights,
      points: z.array(
        z.object({ pointId: count, name: z.string(), head: intervalShape.nullable(), largestGroup: count }),
      ),
    })
    .nullable(),
  met: z.object({
    /** Gone for good, and let go again. */
    head: count,
    released: count,
    byFate: z.array(z.object({ fate: z.enum(FATES), head: count })),
    points: z.array(takenAt.extend({ pointId: count, name: z.string() })),
    days: z.array(takenAt.extend({ day: night })),
    /** Head of other species that the program took. */
    others: z.array(z.object({ species: speciesShape, head: count })),
  }),
  removal: removalShape,
  share: z.number(),
})

export type DidItWorkAnswer = z.infer<typeof didItWorkAnswer>
export type WorkedPoint = DidItWorkAnswer['points'][number]
export type WorkedChange = z.infer<typeof changeShape>
export type RemovalAnswer = DidItWorkAnswer['removal']
