/** The span of the crops: far fewer numbers say the same, when there are fewer crops than numbers a crop. */
import type { Matrix } from './softmax-regression.ts'

export interface Span {
  /** Each crop by its place in the span; lengths and angles between crops are as they were. */
  readonly features: Matrix
  /** Weights on places in the span, as weights on the numbers they came from: every score comes out the same. */
  unfold(weights: Matrix): Matrix
}

/** A crop that adds less than this share of the longest crop's squared length is taken to lie in the span already. */
const NEW_SHARE = 1e-12

/**
 * Gives crops by their places in their own span. A ridge's best weights always lie in that span (representer theorem:
 * Kimeldorf & Wahba 1971, doi:10.1016/0022-247X(71)90184-3) and lengths stay, so the fit is the same fit. X = L Q with
 * L the Cholesky root of X X' (Golub & Van Loan 2013, section 4.2), rows of Q at right angles, made by taking crops in
 * turn.
 */
export function spanOf({ values: x, columns }: Matrix): Span {
  const rows = columns === 0 ? 0 : x.length / columns
  const places = new Float64Array(rows * rows)
  /** Rows of the crops that opened a new direction, in turn. */
  const openers: number[] = []
  const longest = longestSquared(x, columns)
  for (let row = 0; row < rows; row++) {
    let left = dotOf(x, row * columns, row * columns, columns)
    for (const [direction, opener] of openers.entries()) {
      const along = dotOf(x, row * columns, opener * columns, columns)
      const place =
        (along - dotOf(places, row * rows, opener * rows, direction)) / places[opener * rows + direction]!
      places[row * rows + direction] = place
      left -= place * place
    }
    if (left <= NEW_SHARE * longest) continue
    places[row * rows + openers.length] = Math.sqrt(left)
    openers.push(row)
  }
  const directions = openers.length
  const features = { values: new Float64Array(rows * directions), columns: directions }
  for (let row = 0; row < rows; row++)
    features.values.set(places.subarray(row * rows, row * rows + directions), row * directions)
  return { features, unfold: (weights) => unfold(weights, { x, columns, openers, features }) }
}

/** W on the numbers = W on the places x Q, with Q = L^-1 X over the openers: solved from the last direction back. */
function unfold(
  weights: Matrix,
  span: {
    readonly x: Float64Array
    readonly columns: number
    readonly openers: number[]
    readonly features: Matrix
  },
): Matrix {
  const { x, columns, openers, features } = span
  const directions = openers.length
  const count = weights.values.length / directions
  const values = new Float64Array(count * columns)
  for (let kind = 0; kind < count; kind++) {
    const rest = weights.values.slice(kind * directions, (kind + 1) * directions)
    for (let direction = directions - 1; direction >= 0; direction--) {
      const opener = openers[direction]!
      const share = rest[direction]! / features.values[opener * directions + direction]!
      for (let before = 0; before < direction; before++)
        rest[before]! -= share * features.values[opener * directions + before]!
      for (let j = 0; j < columns; j++) values[kind * columns + j]! += share * x[opener * columns + j]!
    }
  }
  return { values, columns }
}

function longestSquared(x: Float64Array, columns: number): number {
  let most = 0
  for (let at = 0; at < x.length; at += columns) most = Math.max(most, dotOf(x, at, at, columns))
  return most
}

/** Four sums side by side: one alone would wait for itself at every step. */
function dotOf(x: Float64Array, a: number, b: number, length: number): number {
  let one = 0
  let two = 0
  let three = 0
  let four = 0
  let j = 0
  for (; j + 3 < length; j += 4) {
    one += x[a + j]! * x[b + j]!
    two += x[a + j + 1]! * x[b + j + 1]!
    three += x[a + j + 2]! * x[b + j + 2]!
    four += x[a + j + 3]! * x[b + j + 3]!
  }
  for (; j < length; j++) one += x[a + j]! * x[b + j]!
  return one + two + (three + four)
}
