/** Several tests at once: with twenty points one would seem to have changed each week by chance alone. */

/**
 * p values corrected for their number, in the order given: Holm 1979, Scandinavian Journal of Statistics 6:65-70. The chance
 * of any false finding among them stays under the level they are held against.
 */
export function holm(ps: readonly number[]): number[] {
  const inOrder = ps.map((p, i) => ({ p, i })).sort((a, b) => a.p - b.p)
  const corrected = Array<number>(ps.length).fill(1)
  let most = 0
  inOrder.forEach(({ p, i }, rank) => {
    most = Math.max(most, Math.min(1, p * (ps.length - rank)))
    corrected[i] = most
  })
  return corrected
}

/**
 * Which tests can reach significance at all beside each other (Tarone 1990, Biometrics 46:515-522, doi:10.2307/2531456):
 * those whose least p is at most level / K, for the smallest K that no more than K of them are. The others cost the rest
 * nothing, because they could never have been found.
 */
export function ableToShow(leastPs: readonly number[], level: number): boolean[] {
  for (let most = 1; most <= leastPs.length; most++) {
    const able = leastPs.map((p) => p <= level / most)
    if (able.filter(Boolean).length <= most) return able
  }
  return leastPs.map(() => false)
}
