/** The bottom of a smooth convex function of many numbers, from its value and slope. */

/** The function: gives its value at `at` and writes its gradient there into `slope`. */
export type Descent = (at: Float64Array, slope: Float64Array) => number

export interface Minimum {
  readonly at: Float64Array
  readonly value: number
  /** Evaluations of the function. */
  readonly evaluations: number
}

/** Pairs of steps kept to model the curvature: 3 to 20 are usual (Nocedal & Wright 2006, section 7.2). */
const MEMORY = 20
/** Share of the promised fall that a step must bring (Armijo; Nocedal & Wright 2006, section 3.1). */
const ENOUGH_FALL = 1e-4
const MAX_HALVINGS = 40
const MAX_STEPS = 2000

/**
 * Limited-memory BFGS with backtracking (Liu & Nocedal 1989, Mathematical Programming 45:503-528,
 * doi:10.1007/BF01589116). `start` is not changed. Ends when the largest part of the gradient is at most `flatness`,
 * or when rounding leaves no step that falls.
 * @throws RangeError when the function is not finite at `start`
 */
export function minimise(descent: Descent, start: Float64Array, flatness: number): Minimum {
  const size = start.length
  let at = start.slice()
  let slope = new Float64Array(size)
  let value = descent(at, slope)
  let evaluations = 1
  if (!Number.isFinite(value)) throw new RangeError('the function is not finite where the search starts')
  const pairs: Pair[] = []
  for (let step = 0; step < MAX_STEPS && largest(slope) > flatness; step++) {
    let direction = newtonLike(slope, pairs)
    let promised = dot(direction, slope)
    if (!(promised < 0)) {
      // Rounding has spoilt the curvature: begin again with the plain slope.
      pairs.length = 0
      direction = slope.map((part) => -part)
      promised = -dot(slope, slope)
    }
    // Without curvature the slope's length says nothing of how far to go: one unit is a careful start.
    let length = pairs.length === 0 ? Math.min(1, 1 / Math.sqrt(-promised)) : 1
    const there = new Float64Array(size)
    const slopeThere = new Float64Array(size)
    let valueThere = Number.POSITIVE_INFINITY
    for (let halving = 0; halving < MAX_HALVINGS; halving++, length /= 2) {
      for (let i = 0; i < size; i++) there[i] = at[i]! + length * direction[i]!
      valueThere = descent(there, slopeThere)
      evaluations++
      if (valueThere <= value + ENOUGH_FALL * length * promised) break
    }
    if (!(valueThere < value)) break
    remember(pairs, { from: at, to: there, slopeFrom: slope, slopeTo: slopeThere })
    at = there
    slope = slopeThere
    value = valueThere
  }
  return { at, value, evaluations }
}

interface Pair {
  readonly moved: Float64Array
  readonly turned: Float64Array
  readonly curvature: number
}

function remember(
  pairs: Pair[],
  step: Readonly<Record<'from' | 'to' | 'slopeFrom' | 'slopeTo', Float64Array>>,
): void {
  const moved = step.to.map((to, i) => to - step.from[i]!)
  const turned = step.slopeTo.map((to, i) => to - step.slopeFrom[i]!)
  const curvature = dot(moved, turned)
  // A pair without positive curvature is rounding, not the function, which is convex.
  if (!(curvature > 1e-14 * dot(turned, turned))) return
  pairs.push({ moved, turned, curvature })
  if (pairs.length > MEMORY) pairs.shift()
}

/** The two-loop recursion: minus the modelled inverse curvature times the slope (Nocedal & Wright 2006, 7.4). */
function newtonLike(slope: Float64Array, pairs: readonly Pair[]): Float64Array {
  const direction = slope.map((part) => -part)
  const shares: number[] = []
  for (let i = pairs.length - 1; i >= 0; i--) {
    const { moved, turned, curvature } = pairs[i]!
    const share = dot(moved, direction) / curvature
    shares[i] = share
    add(direction, turned, -share)
  }
  const last = pairs.at(-1)
  if (last !== undefined) {
    const scale = last.curvature / dot(last.turned, last.turned)
    for (let i = 0; i < direction.length; i++) direction[i]! *= scale
  }
  for (const [i, { moved, turned, curvature }] of pairs.entries())
    add(direction, moved, shares[i]! - dot(turned, direction) / curvature)
  return direction
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

function add(to: Float64Array, what: Float64Array, times: number): void {
  for (let i = 0; i < to.length; i++) to[i]! += times * what[i]!
}

function largest(slope: Float64Array): number {
  let most = 0
  for (let i = 0; i < slope.length; i++) most = Math.max(most, Math.abs(slope[i]!))
  return most
}
