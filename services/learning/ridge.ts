/** How far the station's own namer may go from the base: the ridge, chosen on nights it has not seen. */
import { inOrderOfLot } from '../tally/lot.ts'
import type { CheckedCrop } from './crop.ts'
import { evenShares } from './even-shares.ts'
import { foldsOfNights } from './folds.ts'
import { fitRegression, type Matrix, probabilitiesOf, type Sample } from './softmax-regression.ts'
import { spanOf } from './span.ts'

/** From hardly anything learned to hardly anything held back, in steps of about the root of ten. */
export const RIDGES: readonly number[] = [3, 1, 0.3, 0.1, 0.03, 0.01, 0.003, 0.001]

/**
 * More crops than this make the choice slower, not better: a ridge says how far kinds differ here (the variance of the
 * weights is 1 / ridge), which does not change with the number of checks.
 */
export const MOST_CROPS = 400

export interface RidgeChoice {
  readonly ridge: number
  /** Mean of -log p(true kind) on unseen nights for each of `RIDGES`, each kind as much as each other; lower is better. */
  readonly lossOfEach: readonly number[]
}

/**
 * The ridge with the least mean log loss (Good 1952, from memory) over folds of nights, among the crops at `rows`; of
 * equals the greater. With all crops of one night nothing can be judged, and the greatest ridge is taken.
 */
export function chooseRidge(
  crops: readonly CheckedCrop[],
  sample: Sample,
  { seed, rows }: { readonly seed: string; readonly rows: Int32Array },
): RidgeChoice {
  const drawn = inOrderOfLot([...rows], { seed: `${seed}/crops for the ridge`, nameOf: String })
  const used = Int32Array.from(drawn.slice(0, MOST_CROPS))
  const tried = compact(rowsOf(sample, used))
  const shares = evenShares(tried.kinds, Int32Array.from(used.keys()))
  const losses = RIDGES.map(() => 0)
  for (const { learn, judge } of foldsOfNights(
    [...used].map((row) => crops[row]!),
    { seed },
  )) {
    const learned = { ...tried, shares: evenShares(tried.kinds, learn) }
    let from = {}
    for (const [which, ridge] of RIDGES.entries()) {
      const { weights } = fitRegression(learned, ridge, { of: learn, ...from })
      from = { from: weights }
      const kinds = new Float64Array(tried.offsets.columns)
      for (const row of judge) {
        probabilitiesOf({ ...tried, weights }, row, kinds)
        losses[which]! -= shares[row]! * Math.log(Math.max(kinds[tried.kinds[row]!]!, Number.MIN_VALUE))
      }
    }
  }
  const lossOfEach = losses.map((loss) => loss / Math.max(1, used.length))
  return { ridge: RIDGES[lossOfEach.indexOf(Math.min(...lossOfEach))]!, lossOfEach }
}

function rowsOf({ features, offsets, kinds }: Sample, rows: Int32Array): Sample {
  return {
    features: pick(features, rows),
    offsets: pick(offsets, rows),
    kinds: rows.map((row) => kinds[row]!),
  }
}

function pick({ values, columns }: Matrix, rows: Int32Array): Matrix {
  const picked = new Float64Array(rows.length * columns)
  for (const [to, from] of rows.entries())
    picked.set(values.subarray(from * columns, (from + 1) * columns), to * columns)
  return { values: picked, columns }
}

const compact = (sample: Sample): Sample =>
  sample.kinds.length < sample.features.columns
    ? { ...sample, features: spanOf(sample.features).features }
    : sample
