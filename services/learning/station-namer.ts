/** The station's own namer: learns this station's animals from its checks, on top of the namer it came with. */
import { type CheckedCrop, featuresOf, offsetsOf, type SeenCrop, sampleOf } from './crop.ts'
import { type Kind, sixNames } from './kinds.ts'
import { chooseRidge } from './ridge.ts'
import { fitRegression, type Matrix, probabilitiesOf, type Sample } from './softmax-regression.ts'
import { spanOf } from './span.ts'

export interface StationNamer {
  readonly kinds: readonly Kind[]
  /** One row a kind; one column for each number of the embedding, and a last one for how common the kind is. */
  readonly weights: Matrix
  readonly ridge: number
  /** Crops it learned from. */
  readonly crops: number
}

export interface NamedByStation {
  /** In the order of the namer's kinds, summing to 1. */
  readonly kinds: readonly number[]
  /** In the order of `BASE_NAMES`, summing to 1: own kinds count as "other". They take the place of the base's scores. */
  readonly scores: readonly number[]
}

/**
 * Learns from checked crops: multinomial logistic regression on the embedding at length 1, with the base's
 * log-probabilities as offset and a ridge chosen on unseen nights. The same crops and seed give the same namer. Kinds
 * without a crop keep what the base says of them.
 * @throws RangeError without crops, for embeddings of several lengths, or a crop of no known kind
 */
export function learnStationNamer(
  crops: readonly CheckedCrop[],
  { kinds, seed }: { readonly kinds: readonly Kind[]; readonly seed: string },
): StationNamer {
  if (crops.length === 0) throw new RangeError('a namer needs checked crops to learn from')
  return learnFrom(crops, learnable(crops, kinds), { kinds, seed, rows: Int32Array.from(crops.keys()) })
}

/** A sample to learn from, with the way back to weights on the embedding. */
export interface Learnable {
  readonly sample: Sample
  readonly unfold: (weights: Matrix) => Matrix
}

/** Few crops are given by their places in their own span: the same fit, several times as fast. */
export function learnable(crops: readonly CheckedCrop[], kinds: readonly Kind[]): Learnable {
  const sample = sampleOf(crops, kinds)
  if (crops.length >= sample.features.columns) return { sample, unfold: (weights) => weights }
  const { features, unfold } = spanOf(sample.features)
  return { sample: { ...sample, features }, unfold }
}

/** Learns from the crops at `rows` alone; `learnable` may hold others. */
export function learnFrom(
  crops: readonly CheckedCrop[],
  { sample, unfold }: Learnable,
  given: { readonly kinds: readonly Kind[]; readonly seed: string; readonly rows: Int32Array },
): StationNamer {
  const { ridge } = chooseRidge(crops, sample, given)
  const { weights } = fitRegression(sample, ridge, { of: given.rows })
  return { kinds: given.kinds, weights: unfold(weights), ridge, crops: given.rows.length }
}

/** Names crops, in their order. @throws RangeError for embeddings of another length than the namer learned from */
export function nameByStation(namer: StationNamer, crops: readonly SeenCrop[]): NamedByStation[] {
  if (crops.length === 0) return []
  const features = featuresOf(crops)
  if (features.columns !== namer.weights.columns)
    throw new RangeError(
      `the namer learned from embeddings of ${namer.weights.columns - 1} numbers, and these have ${features.columns - 1}`,
    )
  const given = { features, offsets: offsetsOf(crops, namer.kinds), weights: namer.weights }
  return crops.map((_, row) => {
    const kinds = new Float64Array(namer.kinds.length)
    probabilitiesOf(given, row, kinds)
    return { kinds: [...kinds], scores: sixNames(kinds) }
  })
}
