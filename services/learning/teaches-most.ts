/** Which photos would teach the station's own namer most. */

/**
 * How undecided a namer is: 1 less the lead of its best kind over its second, 0 (sure) to 1 (two kinds alike). A word on
 * the most undecided crops teaches most (margin sampling: Scheffer, Decomain & Wrobel 2001, doi:10.1007/3-540-44816-0_31).
 * @throws RangeError with fewer than two probabilities
 */
export function undecided(probabilities: readonly number[]): number {
  if (probabilities.length < 2) throw new RangeError('a namer decides between two kinds at least')
  const [best, second] = [...probabilities].sort((a, b) => b - a)
  return 1 - (best! - second!)
}
