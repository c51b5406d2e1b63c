/** How much each crop counts while it is learned from. */

/**
 * Shares by which each kind counts as much as each other, however many crops it has. Photos come up for a look because
 * they may be feral or in doubt, and people look at what they like: how many crops of a kind were checked says little of
 * how common it is, and without this a species seldom checked would be taken for one often checked. They sum to the
 * number of `rows`; a crop that is not among `rows` has 0.
 */
export function evenShares(kinds: Int32Array, rows: Int32Array): Float64Array {
  const crops = new Map<number, number>()
  for (const row of rows) crops.set(kinds[row]!, (crops.get(kinds[row]!) ?? 0) + 1)
  const shares = new Float64Array(kinds.length)
  for (const row of rows) shares[row] = rows.length / crops.size / crops.get(kinds[row]!)!
  return shares
}
