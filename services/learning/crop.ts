/** Crops as the station's own namer learns from them. */
import type { NightDate } from '../words.ts'
import { BASE_NAMES, baseLogProbabilities, type Kind } from './kinds.ts'
import type { Matrix, Sample } from './softmax-regression.ts'

/** What the base namer says of one crop. */
export interface SeenCrop {
  /** The namer's embedding, any length but 0. */
  readonly embedding: ArrayLike<number>
  /** The namer's six scores, in the order of `BASE_NAMES`; they sum to 1. */
  readonly scores: readonly number[]
}

/** A crop that a person has named. */
export interface CheckedCrop extends SeenCrop {
  readonly kind: Kind
  /** The detector's six scores of its box, each 0 to 1, in the order of `BASE_NAMES`. */
  readonly detector: readonly number[]
  readonly night: NightDate
  readonly camera: string
}

/**
 * A crop in numbers: the embedding at length 1, for what an animal is lies in its direction, and a constant 1 for what
 * is alike in all. An embedding of nothing but zeros stays so.
 */
export function featuresOf(crops: readonly SeenCrop[]): Matrix {
  const columns = (crops[0]?.embedding.length ?? 0) + 1
  const values = new Float64Array(crops.length * columns)
  for (const [row, { embedding }] of crops.entries()) {
    if (embedding.length + 1 !== columns)
      throw new RangeError(
        `embeddings of ${columns - 1} and of ${embedding.length} numbers can't be learned together`,
      )
    let squares = 0
    for (let j = 0; j < embedding.length; j++) squares += embedding[j]! ** 2
    const length = Math.sqrt(squares) || 1
    for (let j = 0; j < embedding.length; j++) values[row * columns + j] = embedding[j]! / length
    values[row * columns + columns - 1] = 1
  }
  return { values, columns }
}

/** The base's log-probability of each of `kinds`, one row a crop. */
export function offsetsOf(crops: readonly SeenCrop[], kinds: readonly Kind[]): Matrix {
  const values = new Float64Array(crops.length * kinds.length)
  for (const [row, { scores }] of crops.entries())
    values.set(baseLogProbabilities(scores, kinds.length - BASE_NAMES.length), row * kinds.length)
  return { values, columns: kinds.length }
}

/** @throws RangeError for a crop of a kind that is not among `kinds`, or embeddings of two lengths */
export function sampleOf(crops: readonly CheckedCrop[], kinds: readonly Kind[]): Sample {
  const placeOf = new Map(kinds.map((kind, place) => [kind, place]))
  return {
    features: featuresOf(crops),
    offsets: offsetsOf(crops, kinds),
    kinds: Int32Array.from(crops, ({ kind }) => {
      const place = placeOf.get(kind)
      if (place === undefined)
        throw new RangeError(`no kind is called ${kind}; there are: ${kinds.join(', ')}`)
      return place
    }),
  }
}
