/** Numbers by chance for simulations, the same for the same seed. */

export interface Chance {
  /** Uniform, between 0 and 1, neither included. */
  uniform(): number
  /** A count with that mean; its variance is `dispersion` times as large (1: Poisson, over 1: negative binomial). */
  count(mean: number, dispersion?: number): number
  normal(): number
  whole(from: number, to: number): number
}

/** Park & Miller's minimal standard generator (1988, doi:10.1145/63039.63042) under the usual ways to draw. */
export function chanceFrom(seed: number): Chance {
  let state = seed
  const uniform = () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
  // Box & Muller 1958, doi:10.1214/aoms/1177706645.
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
  // Marsaglia & Tsang 2000, doi:10.1145/358407.358414.
  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * uniform() ** (1 / shape)
    const d = shape - 1 / 3
    for (;;) {
      const x = normal()
      const v = (1 + x / Math.sqrt(9 * d)) ** 3
      if (v > 0 && Math.log(uniform()) < x ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v
    }
  }
  // Inversion: Devroye 1986, Non-Uniform Random Variate Generation, section X.3.3, from memory.
  const poisson = (mean: number) => {
    let count = 0
    let part = Math.exp(-mean)
    for (let left = uniform() - part; left > 0 && part > 0; left -= part) {
      count++
      part *= mean / count
    }
    return count
  }
  return {
    uniform,
    normal,
    count: (mean, dispersion = 1) =>
      poisson(dispersion <= 1 || mean <= 0 ? mean : gamma(mean / (dispersion - 1)) * (dispersion - 1)),
    whole: (from, to) => from + Math.floor(uniform() * (to - from + 1)),
  }
}
