/** The day as a circle: how densely visits lie round the clock, by a von Mises kernel. Angles in radians, a day is 2 pi. */
import { besselRatios, expOverBesselI0 } from './bessel-ratios.ts'

export const FULL_CIRCLE = 2 * Math.PI
/** The first so many trigonometric moments are asked for a concentration (as Ridout & Linkie 2009 do, from memory). */
const MOMENTS = 3
/** Times more alike than this are as good as one time. */
const MOST_CONCENTRATION = 500
/** A kernel is no narrower than a quarter of an hour: photos half an hour apart may still be one visit. */
const MOST_KERNEL_CONCENTRATION = (24 * 4) ** 2 / FULL_CIRCLE ** 2
const HALVINGS = 60

/** Density of a von Mises distribution at an angle `apart` from its middle (Mardia & Jupp 2000, section 3.5.4, from memory). */
export const vonMisesDensity = (apart: number, concentration: number): number =>
  vonMises(concentration)(apart)

function vonMises(concentration: number): (apart: number) => number {
  const top = expOverBesselI0(concentration) / FULL_CIRCLE
  return (apart) => top * Math.exp(concentration * (Math.cos(apart) - 1))
}

/** How strongly angles agree with each other after being multiplied by `moment`: 0 not at all, 1 fully. */
export function resultantLength(angles: readonly number[], moment: number): number {
  const part = (of: (x: number) => number) => angles.reduce((sum, angle) => sum + of(moment * angle), 0)
  return Math.hypot(part(Math.cos), part(Math.sin)) / angles.length
}

/** The concentration of the von Mises distribution whose moment has that resultant length: A_p(concentration) = length. */
export function concentrationOf(length: number, moment: number): number {
  let [low, high] = [0, MOST_CONCENTRATION]
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2
    if ((besselRatios(middle)[moment] ?? 0) < length) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * The kernel's concentration by the rule of Taylor 2008, Computational Statistics & Data Analysis 52:3493-3500,
 * doi:10.1016/j.csda.2007.11.003: (3 n k^2 I2(2k) / (4 pi^(1/2) I0(k)^2))^(2/5), with k the largest of those that the first
 * three trigonometric moments give (Ridout & Linkie 2009, Journal of Agricultural, Biological, and Environmental Statistics
 * 14:322-337, doi:10.1198/jabes.2009.08038): animals that come at dusk and at dawn look spread out to the first alone.
 */
export function kernelConcentration(angles: readonly number[]): number {
  const concentration = Math.max(
    ...Array.from({ length: MOMENTS }, (_, i) => concentrationOf(resultantLength(angles, i + 1), i + 1)),
  )
  // I2(2k) / I0(k)^2, each over its own exponential, which cancel.
  const ratio =
    ((besselRatios(2 * concentration)[2] ?? 0) * expOverBesselI0(concentration) ** 2) /
    expOverBesselI0(2 * concentration)
  const rule = ((3 * angles.length * concentration ** 2 * ratio) / (4 * Math.sqrt(Math.PI))) ** (2 / 5)
  return Math.min(MOST_KERNEL_CONCENTRATION, rule)
}

/** What each angle adds to the density at each of `at`, summed (not averaged) over the angles. */
export function kernelSums(
  angles: readonly number[],
  at: readonly number[],
  concentration: number,
): Float64Array {
  const kernel = vonMises(concentration)
  return Float64Array.from(at, (here) => angles.reduce((sum, angle) => sum + kernel(here - angle), 0))
}
