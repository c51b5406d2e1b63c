/** The shapes of the answers about grazing pressure. Numbers have four significant digits; null is never none. */
import { z } from 'zod'
import { RATING_KINDS } from '../tally/load.ts'
import { STATE_KINDS } from '../words.ts'
import { roleShape, speciesShape } from './shapes.ts'

const count = z.int().nonnegative()
const night = z.iso.date()
const localTime = z.iso.datetime({ offset: true })
const part = z.number().min(0).max(1)
const watchedNights = z.number().nonnegative()

export const intervalShape = z.object({
  low: z.number().nonnegative(),
  rate: z.number().nonnegative(),
  high: z.number().nonnegative(),
})

export const ratingShape = z.object({
  species: speciesShape,
  kind: z.enum(RATING_KINDS),
  low: z.number(),
  high: z.number(),
  source: z.string(),
  /** No handbook value was found: check locally. */
  fromMemory: z.boolean(),
  /** Set by the owner. */
  own: z.boolean(),
})
export const ratingsAnswer = z.object({ ratings: z.array(ratingShape) })

const spellShape = z.object({ from: night, to: night })

/** The week beside a spell before it. */
const comparedShape = z.object({
  visits: count,
  watchedNights,
  verdict: z.enum([
    'more',
    'fewer',
    'worth a look',
    'no clear change',
    'too few nights to tell',
    /** Nobody can compare yet. */
    'photos still being read',
  ]),
  /** Rate now over rate then, with its limits; null: nothing then (ratio), no limit (high), or not to be told. */
  ratio: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  p: part.nullable(),
  /** p corrected for the number of points. */
  correctedP: part.nullable(),
})

export const pressureRow = z.object({
  pointId: count,
  species: speciesShape,
  /** In watched nights; visits of nights that were not watched are in no rate. */
  visits: count,
  visitsNotWatched: count,
  animalVisits: count,
  /** Largest count in one photo. */
  largest: count,
  firstAt: localTime.nullable(),
  lastAt: localTime.nullable(),
  /** Night by night, all of them. */
  visitsByNight: z.array(count),
  leastByNight: z.array(count),
  /** Visits per 100 watched nights. Null: not watched. */
  visitRate: intervalShape.nullable(),
  /** Animal-visits per watched night. Null: not watched. */
  animalRate: intervalShape.nullable(),
  /** Of the seven weeks before: what one more visit could weigh. */
  meanPeak: z.object({ head: z.number(), from: z.enum(['this point', 'the station']) }).nullable(),
  lastWeek: comparedShape,
  fourWeeks: comparedShape,
  /** Visits per 100 watched nights drawn towards the station's, and the place that gives; null: not to be ranked. */
  ranked: z.object({ rate: z.number(), ownShare: part, place: z.int().positive() }).nullable(),
  load: z
    .object({ head: intervalShape, litresADay: intervalShape, drySheepEquivalents: intervalShape })
    .nullable(),
})

export const pressurePoint = z.object({
  pointId: count,
  name: z.string(),
  lat: z.number(),
  lon: z.number(),
  /** Watched part of what is known of each night. 0: not watched; null: not known, or still to come. */
  watchedByNight: z.array(part.nullable()),
  watchedNights,
  lastWeekWatchedNights: watchedNights,
  fourWeeksWatchedNights: watchedNights,
  /** Flagged photos of the week that nobody has looked at. */
  toCheck: count,
  /** Words on the point in the five weeks: the spells compared may be unlike. */
  states: z.array(z.object({ kind: z.enum(STATE_KINDS), at: localTime })),
  /** Litres a day; null: not watched. */
  water: z.object({ feral: intervalShape.nullable(), stock: intervalShape.nullable() }),
})

export const pressureAnswer = z.object({
  station: z.string(),
  now: localTime,
  week: z.string(),
  /** Nights, both included. */
  from: night,
  to: night,
  begins: localTime,
  ends: localTime,
  /** False while the week runs: its numbers are so far. */
  over: z.boolean(),
  earlier: z.string(),
  /** Null for the week that runs. */
  later: z.string().nullable(),
  lastWeek: spellShape,
  fourWeeks: spellShape,
  nights: z.array(night),
  /** Of all points, each night as far as it was watched; a point's night counts once, however many cameras watch it. */
  watchedNights,
  toCheck: count,
  /** Photos of the week that are still being read. */
  waiting: count,
  species: z.array(
    z.object({
      species: speciesShape,
      role: roleShape,
      /** How much more than by chance visits vary from night to night; null: not enough nights to tell. */
      dispersion: z.number().min(1).nullable(),
      visits: count,
      animalVisits: count,
    }),
  ),
  points: z.array(pressurePoint),
  /** A species at a point, where it was seen in the five weeks. */
  rows: z.array(pressureRow),
  ratings: z.array(ratingShape),
})

const curveShape = z.object({
  visits: count,
  /** Part of the visits in an hour like this one, at each ten minutes from midnight; null under ten visits. */
  clock: z.array(z.number()).nullable(),
  /** The same with each day's sunrise and sunset moved to the middle ones; null too where the sun does not set. */
  sun: z.array(z.number()).nullable(),
})
export const whenTheyComeAnswer = z.object({
  pointId: count,
  pointName: z.string(),
  from: night,
  to: night,
  nights: z.object({ asked: count, watched: count }),
  /** Hours from midnight, the middle ones of these days; null where the sun does not rise or set on one of them. */
  sunrise: z.number().nullable(),
  sunset: z.number().nullable(),
  species: speciesShape,
  curve: curveShape,
  other: z
    .object({
      species: speciesShape,
      curve: curveShape,
      /** 0: one is gone when the other comes, 1: the same hours; of visits in watched nights. Null under ten visits of either. */
      overlap: z
        .object({
          overlap: part,
          /** Null under 28 nights. */
          interval: z.object({ low: part, high: part }).nullable(),
          nights: count,
          visits: z.tuple([count, count]),
        })
        .nullable(),
    })
    .nullable(),
})

export type IntervalAnswer = z.infer<typeof intervalShape>
export type RatingAnswer = z.infer<typeof ratingShape>
export type PressureRow = z.infer<typeof pressureRow>
export type PressurePoint = z.infer<typeof pressurePoint>
export type PressureAnswer = z.infer<typeof pressureAnswer>
export type ComparedAnswer = z.infer<typeof comparedShape>
export type WhenTheyComeAnswer = z.infer<typeof whenTheyComeAnswer>
