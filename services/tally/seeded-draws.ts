/** Draws by chance that come out the same for the same seed, so that a number told twice is the same number. */

/** Whole numbers from 0 up to but not `below`: Park & Miller's minimal standard generator (1988, doi:10.1145/63039.63042). */
export function drawsFrom(seed: number): (below: number) => number {
  const MODULUS = 2_147_483_647
  let state = (Math.abs(Math.trunc(seed)) % (MODULUS - 1)) + 1
  return (below) => {
    state = (state * 48_271) % MODULUS
    return Math.floor(((state - 1) / (MODULUS - 1)) * below)
  }
}
