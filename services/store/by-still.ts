/** Rows of a statement over many stills, by their still. */
export function byStill<Row extends { readonly still_id: number }>(
  rows: readonly Row[],
): ReadonlyMap<number, readonly Row[]> {
  const groups = new Map<number, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.still_id)
    if (group === undefined) groups.set(row.still_id, [row])
    else group.push(row)
  }
  return groups
}
