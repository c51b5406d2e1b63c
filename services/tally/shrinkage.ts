/** Rates of points with few watched nights, drawn towards the station's: for ranking, beside the raw rates. */
import { logGamma } from './special-functions.ts'

export interface CountedPoint {
  readonly visits: number
  /** 0: not watched; the point has no rate and no say. */
  readonly watchedNights: number
}

/** How the points' true rates lie: a gamma distribution. */
export interface RatePrior {
  /** Visits per watched night. */
  readonly mean: number
  /** Shape of the gamma, over 0; infinite where the points differ by no more than chance. */
  readonly shape: number
}

export interface ShrunkRate {
  /** Visits per watched night, as counted. */
  readonly raw: number
  /** The same drawn towards the mean: what to rank by. */
  readonly shrunk: number
  /** What the point's own nights weigh in it, 0 to 1. */
  readonly ownShare: number
}

/** Shapes outside these are as good as equal points, or points that have nothing in common. */
const LEAST_SHAPE = 1e-3
const MOST_SHAPE = 1e5
/** Each leaves less than 1e-8 of what is searched (golden section), or 1e-15 (halving). */
const GOLDEN_STEPS = 40
const HALVINGS = 50
const GOLDEN = (Math.sqrt(5) - 1) / 2

/**
 * The gamma that the points' rates come from, by the method of moments (Marshall 1991, Applied Statistics 40:283-294,
 * doi:10.2307/2347593) and from there by maximum likelihood of the negative binomial counts (Clayton & Kaldor 1987,
 * Biometrics 43:671-681, doi:10.2307/2532003). Counts and nights are divided by `dispersion` (at least 1). Null with fewer
 * than two watched points, or without any visit.
 */
export function ratePrior(points: readonly CountedPoint[], dispersion = 1): RatePrior | null {
  const watched = points
    .filter(({ watchedNights }) => watchedNights > 0)
    .map(({ visits, watchedNights }) => ({ count: visits / dispersion, effort: watchedNights / dispersion }))
  if (watched.length < 2 || watched.every(({ count }) => count === 0)) return null
  const moments = shapeByMoments(watched)
  const likelihood = (logShape: number) => logLikelihood(watched, Math.exp(logShape))
  // The likelihood is searched a thousandfold to either side of the moments' shape.
  const reach = Math.log(1e3)
  const shape = Math.exp(
    highest(likelihood, {
      low: Math.max(Math.log(LEAST_SHAPE), Math.log(moments) - reach),
      high: Math.min(Math.log(MOST_SHAPE), Math.log(moments) + reach),
    }),
  )
  const mean = meanGiven(watched, shape)
  return { mean, shape: shape > 0.99 * MOST_SHAPE ? Number.POSITIVE_INFINITY : shape }
}

/** A point's rate as counted and drawn towards the prior's mean; null where it was not watched. */
export function shrunkRate(
  { visits, watchedNights }: CountedPoint,
  { mean, shape }: RatePrior,
  dispersion = 1,
): ShrunkRate | null {
  if (watchedNights <= 0) return null
  const raw = visits / watchedNights
  // The mean of the posterior gamma, as a weighing of two rates.
  const own = watchedNights / dispersion
  const ownShare = Number.isFinite(shape) ? own / (own + shape / mean) : 0
  return { raw, shrunk: ownShare * raw + (1 - ownShare) * mean, ownShare }
}

interface Counted {
  readonly count: number
  readonly effort: number
}

function shapeByMoments(points: readonly Counted[]): number {
  const effort = points.reduce((sum, point) => sum + point.effort, 0)
  const mean = points.reduce((sum, { count }) => sum + count, 0) / effort
  const spread =
    points.reduce((sum, point) => sum + point.effort * (point.count / point.effort - mean) ** 2, 0) / effort
  const ofRates = spread - mean / (effort / points.length)
  return Math.min(MOST_SHAPE, Math.max(LEAST_SHAPE, ofRates > 0 ? mean ** 2 / ofRates : MOST_SHAPE))
}

/** Up to what does not depend on the shape, with the mean that is likeliest for it. */
function logLikelihood(points: readonly Counted[], shape: number): number {
  const scale = shape / meanGiven(points, shape)
  return points.reduce(
    (sum, { count, effort }) =>
      sum +
      logGamma(shape + count) -
      logGamma(shape) -
      shape * Math.log1p(effort / scale) -
      count * Math.log(scale + effort),
    0,
  )
}

/** The likeliest mean for a shape, where the sum of (count - mean effort) / (shape + mean effort) is 0: it falls all the way. */
function meanGiven(points: readonly Counted[], shape: number): number {
  const slope = (mean: number) =>
    points.reduce((sum, { count, effort }) => sum + (count - mean * effort) / (shape + mean * effort), 0)
  let [low, high] = [0, Math.max(...points.map(({ count, effort }) => count / effort))]
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2
    if (slope(middle) > 0) low = middle
    else high = middle
  }
  return high
}

/** Golden section search (Kiefer 1953, doi:10.1090/S0002-9939-1953-0055639-3) for the top of a function with one. */
function highest(of: (x: number) => number, { low, high }: { low: number; high: number }): number {
  let [from, to] = [low, high]
  let [a, b] = [to - GOLDEN * (to - from), from + GOLDEN * (to - from)]
  let [atA, atB] = [of(a), of(b)]
  for (let step = 0; step < GOLDEN_STEPS; step++) {
    if (atA >= atB) {
      ;[to, b, atB] = [b, a, atA]
      a = to - GOLDEN * (to - from)
      atA = of(a)
    } else {
      ;[from, a, atA] = [a, b, atB]
      b = from + GOLDEN * (to - from)
      atB = of(b)
    }
  }
  return (from + to) / 2
}
