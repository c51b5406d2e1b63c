/** The list a photo was opened from, so that its page can go to the one before and the one after. */

let opened: readonly number[] = []

export function rememberList(ids: readonly number[]): void {
  opened = ids
}

export interface Neighbours {
  readonly previous: number | null
  readonly next: number | null
}

/** The photos beside `id` in the list it was opened from; none for a photo opened by its address. */
export function neighboursOf(id: number, ids: readonly number[] = opened): Neighbours {
  const at = ids.indexOf(id)
  if (at < 0) return { previous: null, next: null }
  return { previous: ids[at - 1] ?? null, next: ids[at + 1] ?? null }
}
