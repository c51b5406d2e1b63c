/** The shapes of the answers about programs and their target lists. Numbers have four significant digits; null is never none. */
import { z } from 'zod'
import { POINT_KINDS } from '../words.ts'
import { intervalShape } from './pressure-shapes.ts'
import { speciesShape } from './shapes.ts'

const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
const hour = z.number().min(0).max(24)
const nightsShape = z.object({ from: night, to: night })
const place = z.union([z.literal('home'), count])

export const programShape = z.object({
  id: count,
  name: z.string(),
  species: speciesShape,
  /** As the owner names it. */
  method: z.string(),
  /** Both included. */
  fromNight: night,
  toNight: night,
  note: z.string().nullable(),
  madeAt: localTime,
  who: z.string(),
  state: z.enum(['planned', 'going on', 'nights are over', 'finished', 'dropped']),
  /** Null: it is not over. */
  overSince: localTime.nullable(),
})
export const programAnswer = z.object({ program: programShape })
export const programsAnswer = z.object({
  now: localTime,
  programs: z.array(
    programShape.extend({
      /** Points of its list as it was last kept, in their order. */
      points: z.array(z.string()),
    }),
  ),
})
/** Everything that was said of it, the first first. */
export const programHistory = z.object({
  program: programShape,
  words: z.array(
    z.object({
      at: localTime,
      who: z.string(),
      word: z.enum(['made', 'changed', 'finished', 'dropped', 'taken up again']),
      /** As it stood after the word. */
      name: z.string(),
      method: z.string(),
      fromNight: night,
      toNight: night,
      note: z.string().nullable(),
    }),
  ),
})

export const accessShape = z.object({
  pointId: count,
  road: z.string().nullable(),
  gates: z.string().nullable(),
  wetSeason: z.string().nullable(),
  turnaround: z.string().nullable(),
  at: localTime,
  who: z.string(),
})
export const accessAnswer = z.object({ access: z.array(accessShape) })

const expectedShape = z.object({
  /** Head a night; null: not watched. */
  head: intervalShape.nullable(),
  nightsSeen: count,
  nightsWatched: count,
  /** The most in one photo. */
  largestGroup: count,
  lastSeenAt: localTime.nullable(),
  /** The shortest hours with half of its visits, on the clock; null under ten visits. */
  bestHours: z.object({ from: hour, to: hour, hours: hour }).nullable(),
})

const lineShape = expectedShape.extend({
  pointId: count,
  name: z.string(),
  kind: z.enum(POINT_KINDS),
  lat: z.number(),
  lon: z.number(),
  hasYard: z.boolean(),
  /** Its place in the ranking; null: on the list by hand alone. */
  ranked: count.nullable(),
  byHand: z.boolean(),
  note: z.string().nullable(),
  /** Nights of those it rests on in which the species came, the latest first. */
  lastNights: z.array(night),
  access: accessShape.nullable(),
  /** Somebody said that it rained there, within two weeks. */
  rainAt: localTime.nullable(),
  others: z.array(z.object({ species: speciesShape, nights: count, largest: count })),
  /** For the high end of what to expect, where animals are held. */
  bring: z.object({ head: count, litresADay: count }).nullable(),
  photo: z.object({ stillId: count, takenAt: localTime, smallUrl: z.string() }).nullable(),
})

const roundShape = z.object({
  order: z.array(count),
  legs: z.array(
    z.object({
      from: place,
      to: place,
      km: z.number(),
      /** True where the owner has not said how far it is: tracks are longer. */
      straight: z.boolean(),
    }),
  ),
  km: z.number(),
  hours: z.number(),
})

export const targetListAnswer = z.object({
  station: z.string(),
  now: localTime,
  program: programShape,
  /** The number of changes by hand: name it when changing the list. */
  version: count,
  /** When it was kept so; null: it follows the cameras until the program begins. */
  keptAt: localTime.nullable(),
  /** Nights that it rests on. */
  nights: nightsShape,
  lines: z.array(lineShape),
  /** Points that are not on it, in run order. */
  otherPoints: z.array(
    z.object({ pointId: count, name: z.string(), nightsSeen: count, nightsWatched: count }),
  ),
  /** From the homestead over the list in its order, and back. */
  round: roundShape,
  /** The same points in a shorter order; null: there is none, or none was found. */
  shorter: roundShape.extend({ shortest: z.boolean() }).nullable(),
  driving: z.object({ kmAnHour: z.number(), minutesAtPoint: z.number(), own: z.boolean() }),
  /** Photos of the nights that nobody has read yet: more may come to light. */
  waiting: count,
})

const editShape = z.union([
  z.object({ kind: z.enum(['add', 'drop']), pointId: count }),
  z.object({ kind: z.literal('order'), pointIds: z.array(count) }),
  z.object({ kind: z.literal('note'), pointId: count, text: z.string() }),
])
export const targetVersionsAnswer = z.object({
  /** The latest first. */
  versions: z.array(
    z.object({
      version: count,
      at: localTime,
      who: z.string(),
      /** Null: nobody changed the list; it was kept when something was said of the program. */
      edit: editShape.nullable(),
      nights: nightsShape,
      lines: z.array(
        expectedShape.extend({
          pointId: count,
          name: z.string(),
          byHand: z.boolean(),
          note: z.string().nullable(),
        }),
      ),
    }),
  ),
})

export const shareLinkShape = z.object({
  id: count,
  forWhom: z.string().nullable(),
  madeAt: localTime,
  who: z.string(),
  endsAt: localTime,
  ended: z.object({ at: localTime, byHand: z.boolean() }).nullable(),
})
export const shareLinksAnswer = z.object({ links: z.array(shareLinkShape) })
/** The address is told this once. */
export const shareLinkMade = z.object({ link: shareLinkShape, path: z.string() })

export const distancesAnswer = z.object({
  distances: z.array(z.object({ from: place, to: place, km: z.number() })),
  driving: z.object({ kmAnHour: z.number(), minutesAtPoint: z.number(), own: z.boolean() }),
})

export type Program = z.output<typeof programShape>
export type ProgramsAnswer = z.output<typeof programsAnswer>
export type ProgramHistory = z.output<typeof programHistory>
export type Access = z.output<typeof accessShape>
export type TargetListAnswer = z.output<typeof targetListAnswer>
export type TargetLine = TargetListAnswer['lines'][number]
export type TargetVersionsAnswer = z.output<typeof targetVersionsAnswer>
export type ShareLink = z.output<typeof shareLinkShape>
export type DistancesAnswer = z.output<typeof distancesAnswer>
