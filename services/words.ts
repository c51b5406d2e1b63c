/** The words of the trade as types: what a species, an instant, a night, a box and a tally are. No code of its own. */

export const SPECIES = ['cattle', 'camel', 'horse', 'donkey', 'goat'] as const
export type Species = (typeof SPECIES)[number]

/** The namer's sixth name: found, never tallied. */
export type Name = Species | 'other'

export const POINT_KINDS = [
  'bore',
  'tank',
  'trough',
  'dam',
  'turkey nest',
  'soak',
  'well',
  'trap yard',
] as const
export type PointKind = (typeof POINT_KINDS)[number]

/** What a point can be said to be in, from a date on; the latest word of its sort stands. */
export const STATE_KINDS = [
  'water good',
  'water low',
  'water dry',
  'water off',
  'spelled',
  'trap open',
  'trap set',
  'trap shut down',
  'rain',
] as const
export type StateKind = (typeof STATE_KINDS)[number]

/**
 * What a person may mark on a photo beside its count: whose animals they are, a brand or collar, young at foot, one that
 * is injured or down, and a person in the picture (which then never leaves the station).
 */
export const MARKS = ['ours', 'neighbour', 'branded', 'young', 'injured', 'person'] as const
export type Mark = (typeof MARKS)[number]

/** Milliseconds since 1970-01-01T00:00Z. All times inside are instants; station-local time exists at the edge only. */
export type Instant = number & { readonly __instant: unique symbol }

/** `YYYY-MM-DD`: a night runs noon to noon, station time, and is named by its evening's date. */
export type NightDate = string & { readonly __night: unique symbol }

/** An IANA time zone name, checked at the edge. */
export type Zone = string & { readonly __zone: unique symbol }

/** Half-open stretch of time, `from` included, `to` excluded. */
export interface Spell {
  readonly from: Instant
  readonly to: Instant
}

/** Left, top, right, bottom in pixels of the full-size still (after EXIF orientation). */
export type Box = readonly [x0: number, y0: number, x1: number, y1: number]

/** Animals of each species; a species that is not there is absent, never 0. */
export type Tally = Partial<Readonly<Record<Species, number>>>

/** A box that a person drew where the models missed an animal. */
export interface DrawnBox {
  readonly species: Species
  readonly box: Box
}

/** Head of kinds of the station's own, by name (a sheep, a dog): kept in the log of checks, never tallied. */
export type Others = Readonly<Record<string, number>>

/** `count`: a box at or over it is tallied. `flag`: at or over it, it is worth a look. Both 0 to 1. */
export interface Thresholds {
  readonly count: number
  readonly flag: number
}
export type ThresholdsBySpecies = Readonly<Record<Species, Thresholds>>

/** Whose animals they are to the owner: stock drink by right, feral ones do not. */
export type Role = 'stock' | 'feral'

/** What a box is, once both models have spoken: the best of the five species and the pooled score. */
export interface Sighted {
  readonly species: Species
  /** Pooled score, 0 to 1 (models/manifest.json, pooling). */
  readonly score: number
  readonly box: Box
}

/** One box at or over the manifest's floor, with everything needed to move thresholds without running again. */
export interface Found extends Sighted {
  /** The detector's six scores, manifest order. */
  readonly detector: readonly number[]
  /** The namer's six scores, manifest order; null for a station that runs a detector alone. */
  readonly namer: readonly number[] | null
  /** The namer's embedding, kept for boxes of flagged stills; null without a namer. */
  readonly embedding: Float32Array | null
}

/** Which models spoke: a row of its own in the ledger, so that each box can say who found it. */
export interface ModelIdentity {
  readonly name: string
  readonly version: string
  readonly detectorSha256: string
  readonly namerSha256: string | null
  /** The version of the station's own namer that named after them; absent or null for the models alone. */
  readonly stationNamer?: number | null | undefined
}

/** How a camera's photos are fetched, where it does not send them itself. */
export const SOURCE_KINDS = ['drop folder', 'snapshot'] as const
export type SourceKindName = (typeof SOURCE_KINDS)[number]

/** Where the time of a still came from, in falling order of trust. */
export type TakenFrom =
  | 'exif with offset'
  | 'exif'
  | 'sender'
  | 'file name'
  | 'mail date'
  | 'file time'
  | 'arrival'

/** What a whole picture says of its camera (worker/eye/whole-picture.ts). */
export interface WholePicture {
  /** 0 for an even surface to 0.5 for one half black and half white. */
  readonly contrast: number
  /** 0 for an even surface; no unit. */
  readonly detail: number
  /** 256 bits, row by row: a part of the view is brighter than the one to its left. */
  readonly view: Uint8Array
}

/** What the eye says of one still. A still that cannot be read is an answer, not an error. */
export type Looked =
  | {
      readonly kind: 'seen'
      readonly width: number
      readonly height: number
      /** Best first. */
      readonly found: readonly Found[]
      /** 0 for grey, as in infra-red (worker/eye/colourfulness.ts); absent where nobody measured it. */
      readonly colourfulness?: number | undefined
      /** Of its best box (worker/eye/sharpness.ts); absent without a box, or where nobody measured it. */
      readonly sharpness?: number | undefined
      /** Absent where nobody measured it. */
      readonly whole?: WholePicture | undefined
      readonly models: ModelIdentity
    }
  | { readonly kind: 'unreadable'; readonly reason: string }
