/** Is one namer better than another by more than chance? The sign-flip permutation test, exact for any number of nights. */

/**
 * One-sided p of differences that would be as often below as above 0 were neither namer better: the share of all 2^n ways
 * to flip their signs whose sum is at least the one seen (Fisher 1935, The Design of Experiments, section 21, from
 * memory). Each difference must be independent of the others: sums over night-cameras, as crops of one visit are not.
 * Whole numbers allow all ways to be counted without listing them, so no sampling is needed (Pagano & Tritchler 1983,
 * Journal of the American Statistical Association 78:435-440, doi:10.1080/01621459.1983.10477990). Differences of 0 have
 * no say; without any other p is 1.
 * @throws RangeError for a difference that is not whole
 */
export function signFlipP(differences: readonly number[]): number {
  const sizes: number[] = []
  let seen = 0
  for (const difference of differences) {
    if (!Number.isSafeInteger(difference))
      throw new RangeError(`a difference is whole, and this is ${difference}`)
    seen += difference
    if (difference !== 0) sizes.push(Math.abs(difference))
  }
  const most = sizes.reduce((a, b) => a + b, 0)
  // chance[s]: that the sizes whose sign came up plus sum to s; the flipped sum is then 2 s - most.
  let chance = new Float64Array(most + 1)
  chance[0] = 1
  let reach = 0
  for (const size of sizes) {
    const next = new Float64Array(most + 1)
    for (let sum = 0; sum <= reach; sum++) {
      next[sum]! += chance[sum]! / 2
      next[sum + size]! += chance[sum]! / 2
    }
    chance = next
    reach += size
  }
  let p = 0
  for (let sum = most; 2 * sum - most >= seen && sum >= 0; sum--) p += chance[sum]!
  return Math.min(1, p)
}
