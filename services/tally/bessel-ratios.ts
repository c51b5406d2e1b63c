/** Modified Bessel functions as ratios: all that a von Mises distribution asks of them, without numbers that overflow. */

const NEGLIGIBLE = 1e-17

/**
 * I_p(x) / I_0(x) for p = 0, 1, 2 ... as far as they count in double precision; x is at least 0 and at most some thousands.
 * By the recurrence DLMF 10.29.1 run downwards, where it is stable (DLMF 3.6(iii)).
 * @throws RangeError for x under 0
 */
export function besselRatios(x: number): number[] {
  if (!(x >= 0)) throw new RangeError(`a concentration is at least 0, and this is ${x}`)
  if (x === 0) return [1]
  // I_p / I_0 falls about as exp(-p^2 / 2x): at this order it is long negligible.
  const orders = Math.ceil(20 + 10 * Math.sqrt(x))
  const steps = Array<number>(orders).fill(0)
  for (let p = orders - 1, above = 0; p >= 1; p--) {
    above = 1 / ((2 * p) / x + above)
    steps[p] = above
  }
  const ratios = [1]
  for (let p = 1; p < orders && ratios[p - 1]! > NEGLIGIBLE; p++) ratios.push(ratios[p - 1]! * steps[p]!)
  return ratios
}

/** e^x / I_0(x) = 1 + 2 (I_1 + I_2 + ...) / I_0 (DLMF 10.35.1 at t = 1). */
export const expOverBesselI0 = (x: number): number =>
  2 * besselRatios(x).reduce((sum, ratio) => sum + ratio, 0) - 1
