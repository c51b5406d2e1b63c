/** Multinomial logistic regression with an offset and a ridge: the mathematics under the station's own namer. */
import { type Descent, minimise } from './minimise.ts'

/** Rows of numbers, one after the other. */
export interface Matrix {
  readonly values: Float64Array
  readonly columns: number
}

export interface Sample {
  /** What each crop looks like: one row a crop. */
  readonly features: Matrix
  /** What is known of each crop before: a log-probability for each kind, one row a crop. */
  readonly offsets: Matrix
  /** Which kind each crop truly is, from 0. */
  readonly kinds: Int32Array
  /** How much each crop counts, 1 being one crop; as much as each other where it is left out. */
  readonly shares?: Float64Array
}

export interface Regression {
  /** One row a kind, one column a feature. */
  readonly weights: Matrix
  /** Evaluations of the likelihood the fit took. */
  readonly evaluations: number
}

/**
 * The fit ends when no part of the gradient is over this for each crop: the likelihood is then known to far less than a
 * check could tell, and a tighter end takes three times as long.
 */
const FLATNESS_PER_CROP = 1e-5

/**
 * The weights W that make sum over crops of -share x log p(kind) + ridge / 2 x sum W^2 least, where p is the softmax of offset +
 * W x features. The ridge falls on every kind's weights alike, so that none is a reference and the answer is one and
 * only (Zhu & Hastie 2004, Biostatistics 5:427-443, doi:10.1093/biostatistics/kxg046); without crops, or under a great
 * ridge, p is the offset's own. `of`: the rows to learn from; `from`: weights to start at, so that a near ridge's fit
 * is quick.
 * @throws RangeError when the ridge is not over 0
 */
export function fitRegression(
  sample: Sample,
  ridge: number,
  given: { readonly of?: Int32Array; readonly from?: Matrix; readonly flatness?: number } = {},
): Regression {
  if (!(ridge > 0)) throw new RangeError(`a ridge is over 0, and this is ${ridge}`)
  const { columns } = sample.features
  const count = sample.offsets.columns
  const of = given.of ?? Int32Array.from(sample.kinds.keys())
  const start = given.from?.values ?? new Float64Array(columns * count)
  const { at, evaluations } = minimise(
    lossOf(sample, of, ridge),
    start,
    given.flatness ?? FLATNESS_PER_CROP * Math.max(1, of.length),
  )
  return { weights: { values: at, columns }, evaluations }
}

/** Writes the probabilities of each kind for one row of features into `into`; they sum to 1. */
export function probabilitiesOf(
  { weights, features, offsets }: Pick<Sample, 'features' | 'offsets'> & Pick<Regression, 'weights'>,
  row: number,
  into: Float64Array,
): void {
  const { columns } = features
  for (let kind = 0; kind < into.length; kind++) {
    let sum = offsets.values[row * into.length + kind]!
    for (let j = 0; j < columns; j++)
      sum += weights.values[kind * columns + j]! * features.values[row * columns + j]!
    into[kind] = sum
  }
  softmax(into, 0, into.length)
}

/** Turns `count` log-weights from `from` on into probabilities; gives the log of what they summed to. */
function softmax(values: Float64Array, from: number, count: number): number {
  let most = Number.NEGATIVE_INFINITY
  for (let k = from; k < from + count; k++) most = Math.max(most, values[k]!)
  let sum = 0
  for (let k = from; k < from + count; k++) sum += values[k] = Math.exp(values[k]! - most)
  for (let k = from; k < from + count; k++) values[k]! /= sum
  return most + Math.log(sum)
}

/** Crops and kinds taken together: each number read serves several sums, and reading is most of what the fit costs. */
const CROPS_TOGETHER = 4

function lossOf({ features, offsets, kinds, shares }: Sample, of: Int32Array, ridge: number): Descent {
  const { columns } = features
  const count = offsets.columns
  const scores = new Float64Array(CROPS_TOGETHER * count)
  const starts = new Int32Array(CROPS_TOGETHER)
  return (weights, slope) => {
    let loss = 0
    for (let i = 0; i < weights.length; i++) {
      loss += (ridge / 2) * weights[i]! * weights[i]!
      slope[i] = ridge * weights[i]!
    }
    for (let first = 0; first < of.length; first += CROPS_TOGETHER) {
      const here = Math.min(CROPS_TOGETHER, of.length - first)
      // A short last turn takes its last crop again, and leaves out what it says.
      for (let t = 0; t < CROPS_TOGETHER; t++) starts[t] = of[first + Math.min(t, here - 1)]! * columns
      scoreFour({ features, weights, scores, count }, starts)
      for (let t = 0; t < CROPS_TOGETHER; t++) {
        const at = t * count
        if (t >= here) {
          scores.fill(0, at, at + count)
          continue
        }
        const row = of[first + t]!
        for (let kind = 0; kind < count; kind++) scores[at + kind]! += offsets.values[row * count + kind]!
        const truth = at + kinds[row]!
        const scoreOfTruth = scores[truth]!
        const share = shares?.[row] ?? 1
        loss += share * (softmax(scores, at, count) - scoreOfTruth)
        scores[truth]! -= 1
        for (let kind = at; kind < at + count; kind++) scores[kind]! *= share
      }
      slopeOfFour({ features, slope, scores, count }, starts)
    }
    return loss
  }
}

function scoreFour(
  given: { features: Matrix; weights: Float64Array; scores: Float64Array; count: number },
  starts: Int32Array,
): void {
  const { weights, scores, count } = given
  const { values: x, columns } = given.features
  const a = starts[0]!
  const b = starts[1]!
  const c = starts[2]!
  const d = starts[3]!
  for (let kind = 0; kind < count; kind += 2) {
    const next = Math.min(kind + 1, count - 1)
    const w = kind * columns
    const v = next * columns
    let wa = 0
    let wb = 0
    let wc = 0
    let wd = 0
    let va = 0
    let vb = 0
    let vc = 0
    let vd = 0
    for (let j = 0; j < columns; j++) {
      const wj = weights[w + j]!
      const vj = weights[v + j]!
      const xa = x[a + j]!
      const xb = x[b + j]!
      const xc = x[c + j]!
      const xd = x[d + j]!
      wa += wj * xa
      va += vj * xa
      wb += wj * xb
      vb += vj * xb
      wc += wj * xc
      vc += vj * xc
      wd += wj * xd
      vd += vj * xd
    }
    scores[kind] = wa
    scores[count + kind] = wb
    scores[2 * count + kind] = wc
    scores[3 * count + kind] = wd
    scores[next] = va
    scores[count + next] = vb
    scores[2 * count + next] = vc
    scores[3 * count + next] = vd
  }
}

function slopeOfFour(
  given: { features: Matrix; slope: Float64Array; scores: Float64Array; count: number },
  starts: Int32Array,
): void {
  const { slope, scores, count } = given
  const { values: x, columns } = given.features
  const a = starts[0]!
  const b = starts[1]!
  const c = starts[2]!
  const d = starts[3]!
  for (let kind = 0; kind < count; kind += 2) {
    const last = kind + 1 === count
    const next = last ? kind : kind + 1
    const w = kind * columns
    const v = next * columns
    const wa = scores[kind]!
    const wb = scores[count + kind]!
    const wc = scores[2 * count + kind]!
    const wd = scores[3 * count + kind]!
    // The last of an odd number of kinds goes alone.
    const va = last ? 0 : scores[next]!
    const vb = last ? 0 : scores[count + next]!
    const vc = last ? 0 : scores[2 * count + next]!
    const vd = last ? 0 : scores[3 * count + next]!
    for (let j = 0; j < columns; j++) {
      const xa = x[a + j]!
      const xb = x[b + j]!
      const xc = x[c + j]!
      const xd = x[d + j]!
      slope[w + j]! += wa * xa + wb * xb + wc * xc + wd * xd
      slope[v + j]! += va * xa + vb * xb + vc * xc + vd * xd
    }
  }
}
