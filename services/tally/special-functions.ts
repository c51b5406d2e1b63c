/** Incomplete beta and gamma functions and their inverses: what exact intervals for shares and counts are made of. */

/** Relative size of a term that no longer changes a sum in double precision. */
const SMALL = 1e-16
const TINY = 1e-300
const MAX_TERMS = 100_000

/**
 * Natural logarithm of the gamma function for x > 0, to about 1e-14 relative (absolute near 1 and 2): Stirling's series
 * after shifting x over 15 (DLMF 5.11.1 and 5.5.1).
 * @throws RangeError for x that is not over 0
 */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`the gamma function is taken of numbers over 0, and this is ${x}`)
  let shift = 1
  let large = x
  for (; large < 15; large++) shift *= large
  const inverse = 1 / (large * large)
  const series =
    (1 / 12 -
      inverse *
        (1 / 360 -
          inverse * (1 / 1260 - inverse * (1 / 1680 - inverse * (1 / 1188 - (inverse * 691) / 360_360))))) /
    large
  return (large - 0.5) * Math.log(large) - large + Math.log(2 * Math.PI) / 2 + series - Math.log(shift)
}

/**
 * Regularised incomplete beta function I_x(a, b), 0 to 1: the chance that a beta variable is at most x. By the continued
 * fraction DLMF 8.17.22 and the symmetry 8.17.4. x is 0 to 1; a and b are over 0.
 * @throws RangeError outside these
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (!(x >= 0 && x <= 1)) throw new RangeError(`a share is 0 to 1, and this is ${x}`)
  if (x === 0 || x === 1) return x
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x))
  // The fraction closes fast on this side of the mean only.
  if (x > (a + 1) / (a + b + 2)) return 1 - (front * betaFraction(1 - x, b, a)) / b
  return (front * betaFraction(x, a, b)) / a
}

function betaFraction(x: number, a: number, b: number): number {
  return continuedFraction((m) => {
    const half = Math.floor(m / 2)
    return m % 2 === 0
      ? (half * (b - half) * x) / ((a + 2 * half - 1) * (a + 2 * half))
      : (-(a + half) * (a + b + half) * x) / ((a + 2 * half) * (a + 2 * half + 1))
  })
}

/** 1 / (1 + d1 / (1 + d2 / (1 + ...))), by the method of Lentz (Thompson & Barnett 1986, doi:10.1016/0021-9991(86)90046-X). */
function continuedFraction(d: (m: number) => number): number {
  let down = 0
  let up = 1
  let value = 1
  for (let m = 1; m <= MAX_TERMS; m++) {
    const term = d(m)
    up = 1 + term / up || TINY
    down = 1 / (1 + term * down || TINY)
    value *= up * down
    if (Math.abs(up * down - 1) < 4 * SMALL) return 1 / value
  }
  throw new RangeError('the continued fraction does not close')
}

/** The x with I_x(a, b) = p. p is 0 to 1; a and b are over 0. */
export function betaQuantile(p: number, a: number, b: number): number {
  return whereItReaches(p, (x) => incompleteBeta(x, a, b), { low: 0, high: 1 })
}

/**
 * Regularised lower incomplete gamma function P(a, x), 0 to 1: the chance that a gamma variable of shape a and scale 1 is
 * at most x. The series DLMF 8.11.4 for x < a + 1, else 1 less the continued fraction DLMF 8.9.2. a is over 0, x at least 0.
 * @throws RangeError outside these
 */
export function incompleteGamma(a: number, x: number): number {
  if (!(x >= 0)) throw new RangeError(`a gamma variable is at least 0, and this is ${x}`)
  if (x === 0) return 0
  if (x === Number.POSITIVE_INFINITY) return 1
  const front = Math.exp(a * Math.log(x) - x - logGamma(a))
  if (x >= a + 1) return 1 - front * gammaFraction(a, x)
  let term = 1 / a
  let sum = term
  for (let n = 1; n <= MAX_TERMS && term > SMALL * sum; n++) {
    term *= x / (a + n)
    sum += term
  }
  return front * sum
}

/** Gamma(a, x) / (x^a e^-x) in the even form of the fraction, which closes twice as fast (Lentz, as above). */
function gammaFraction(a: number, x: number): number {
  let b = x + 1 - a
  let up = 1 / TINY
  let down = 1 / b
  let value = down
  for (let n = 1; n <= MAX_TERMS; n++) {
    const term = -n * (n - a)
    b += 2
    down = 1 / (term * down + b || TINY)
    up = b + term / up || TINY
    value *= up * down
    if (Math.abs(up * down - 1) < 4 * SMALL) return value
  }
  throw new RangeError('the continued fraction does not close')
}

/** The x with P(shape, x / scale) = p. p is 0 to under 1; shape and scale are over 0; the mean is shape x scale. */
export function gammaQuantile(p: number, shape: number, scale = 1): number {
  if (!(p >= 0 && p < 1)) throw new RangeError(`a gamma quantile is for 0 to under 1, and this is ${p}`)
  let high = shape + 1
  while (incompleteGamma(shape, high) < p) high *= 2
  return scale * whereItReaches(p, (x) => incompleteGamma(shape, x), { low: 0, high })
}

/** The x that a chi-square variable with `freedom` degrees (over 0, not only whole) is at most with chance p. */
export const chiSquareQuantile = (p: number, freedom: number): number => gammaQuantile(p, freedom / 2, 2)

/** The x that a Student's t variable with `freedom` degrees (over 0) is at most with chance p, between 0 and 1 (DLMF 8.17). */
export function studentQuantile(p: number, freedom: number): number {
  if (!(p > 0 && p < 1))
    throw new RangeError(`a quantile of t is for chances between 0 and 1, and this is ${p}`)
  if (p === 0.5) return 0
  const x = betaQuantile(2 * Math.min(p, 1 - p), freedom / 2, 0.5)
  return Math.sign(p - 0.5) * Math.sqrt((freedom * (1 - x)) / x)
}

/**
 * Where a function that rises reaches p, to the last digits of a double: inverse quadratic interpolation where that is safe,
 * halving where it is not (Chandrupatla 1997, Advances in Engineering Software 28:145-149,
 * doi:10.1016/S0965-9978(96)00051-8). A page of intervals asks for thousands.
 */
function whereItReaches(
  p: number,
  rises: (x: number) => number,
  { low, high }: { readonly low: number; readonly high: number },
): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a chance is 0 to 1, and this is ${p}`)
  if (p === 0) return low
  if (p === 1) return high
  const over = (x: number) => ({ x, f: rises(x) - p })
  let newest = over(high)
  let across = over(low)
  let part = 0.5
  for (;;) {
    const tried = over(newest.x + part * (across.x - newest.x))
    let before = newest
    if (Math.sign(tried.f) !== Math.sign(newest.f)) {
      before = across
      across = newest
    }
    newest = tried
    const best = Math.abs(across.f) < Math.abs(newest.f) ? across : newest
    const least = (2 * Number.EPSILON * Math.abs(best.x) + TINY) / Math.abs(across.x - newest.x)
    if (best.f === 0 || !(least <= 0.5)) return best.x
    part = Math.min(1 - least, Math.max(least, partToTry(newest, across, before)))
  }
}

interface Tried {
  readonly x: number
  readonly f: number
}

/** How far from the newest towards the one across to try next. */
function partToTry(newest: Tried, across: Tried, before: Tried): number {
  const xi = (newest.x - across.x) / (before.x - across.x)
  const phi = (newest.f - across.f) / (before.f - across.f)
  if (!(phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5
  return (
    (newest.f / (across.f - newest.f)) * (before.f / (across.f - before.f)) +
    ((before.x - newest.x) / (across.x - newest.x)) *
      (newest.f / (before.f - newest.f)) *
      (across.f / (before.f - across.f))
  )
}
