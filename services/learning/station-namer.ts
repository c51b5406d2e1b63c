/** The station's own namer: learns this station's animals from its checks, on top of the namer it came with. */
import { type CheckedCrop, featuresOf, offsetsOf, type SeenCrop, sampleOf } from './crop.ts'
import { evenShares } from './even-shares.ts'
import { type Kind, sixNames } from './kinds.ts'
import { learnedKinds } from './learned-kinds.ts'
import { chooseRidge } from './ridge.ts'
import { fitRegression, type Matrix, probabilitiesOf, type Sample } from './softmax-regression.ts'
import { spanOf } from './span.ts'

export interface StationNamer {
  readonly kinds: readonly Kind[]
  /** Places in `kinds` of those it learned; the others keep what the base says of them. */
  readonly learned: readonly number[]
  /** One row a learned kind; one column for each number of the embedding, and a last one for what is alike in all. */
  readonly weights: Matrix
  readonly ridge: number
  /** Crops it learned from. */
  readonly crops: number
}

/** What is to be told apart. */
export interface Lesson {
  readonly kinds: readonly Kind[]
  readonly seed: string
  /** Kinds that never come to this station, by the owner's word: what looks like them is something else. */
  readonly absent?: readonly Kind[] | undefined
}

export interface NamedByStation {
  /** In the order of the namer's kinds, summing to 1. */
  readonly kinds: readonly number[]
  /** In the order of `BASE_NAMES`, summing to 1: own kinds count as "other". They take the place of the base's scores. */
  readonly scores: readonly number[]
}

/**
 * Learns from checked crops: multinomial logistic regression on the embedding at length 1, with the base's
 * log-probabilities as offset, each kind counting as much as each other, and a ridge chosen on unseen nights. The same
 * crops and seed give the same namer. Kinds with too few crops keep what the base says of them.
 * @throws RangeError without crops, for embeddings of several lengths, or a crop of no known kind
 */
export function learnStationNamer(crops: readonly CheckedCrop[], given: Lesson): StationNamer {
  if (crops.length === 0) throw new RangeError('a namer needs checked crops to learn from')
  return learnFrom(crops, learnable(crops, given.kinds), { ...given, rows: Int32Array.from(crops.keys()) })
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
  given: Lesson & { readonly rows: Int32Array },
): StationNamer {
  const { kinds, seed } = given
  const learned = learnedKinds(crops, given.rows, given)
  const rows = given.rows.filter((row) => learned.includes(sample.kinds[row]!))
  const part = ofLearned(sample, learned)
  const { ridge } = chooseRidge(crops, part, { seed, rows })
  const { weights } = fitRegression({ ...part, shares: evenShares(part.kinds, rows) }, ridge, { of: rows })
  return { kinds, learned, weights: unfold(weights), ridge, crops: rows.length }
}

/** The sample among the learned kinds alone; a crop of another has no place there (-1). */
function ofLearned(sample: Sample, learned: readonly number[]): Sample {
  const { values, columns } = sample.offsets
  const offsets = new Float64Array(sample.kinds.length * learned.length)
  for (let row = 0; row < sample.kinds.length; row++)
    for (const [place, kind] of learned.entries())
      offsets[row * learned.length + place] = values[row * columns + kind]!
  return {
    features: sample.features,
    offsets: { values: offsets, columns: learned.length },
    kinds: sample.kinds.map((kind) => learned.indexOf(kind)),
  }
}

/**
 * Names crops, in their order: what the base gives to kinds that were learned is shared out anew among them, and every
 * other kind keeps its own.
 * @throws RangeError for embeddings of another length than the namer learned from
 */
export function nameByStation(namer: StationNamer, crops: readonly SeenCrop[]): NamedByStation[] {
  if (crops.length === 0) return []
  const { learned, weights } = namer
  const features = featuresOf(crops)
  if (learned.length > 0 && features.columns !== weights.columns)
    throw new RangeError(
      `the namer learned from embeddings of ${weights.columns - 1} numbers, and these have ${features.columns - 1}`,
    )
  const base = offsetsOf(crops, namer.kinds)
  const offsets = {
    values: Float64Array.from(
      crops.flatMap((_, row) => learned.map((kind) => base.values[row * base.columns + kind]!)),
    ),
    columns: learned.length,
  }
  const chances = new Float64Array(learned.length)
  return crops.map((_, row) => {
    const kinds = base.values.slice(row * base.columns, (row + 1) * base.columns).map(Math.exp)
    const all = kinds.reduce((sum, one) => sum + one, 0)
    if (learned.length > 0) {
      const share = learned.reduce((sum, kind) => sum + kinds[kind]!, 0)
      probabilitiesOf({ features, offsets, weights }, row, chances)
      for (const [place, kind] of learned.entries()) kinds[kind] = share * chances[place]!
    }
    const scaled = [...kinds].map((one) => one / all)
    return { kinds: scaled, scores: sixNames(scaled) }
  })
}
