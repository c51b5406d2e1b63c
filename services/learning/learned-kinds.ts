/** Which kinds there are checks enough of to be learned. */
import type { CheckedCrop } from './crop.ts'
import type { Kind } from './kinds.ts'

/** A kind with fewer checked crops, or from fewer night-cameras, is left to the base (common practice, no source). */
export const LEAST_CROPS = 20
export const LEAST_NIGHT_CAMERAS = 3

/**
 * Places in `kinds` of those that the crops at `rows` have enough of, and of those that are `absent` by the owner's word,
 * in their order; none where that is only one. A namer
 * that learned from a station's camels and cattle alone would call every donkey one of them, and no trial on checked
 * photos could ever show it.
 */
export function learnedKinds(
  crops: readonly Pick<CheckedCrop, 'kind' | 'night' | 'camera'>[],
  rows: Int32Array,
  { kinds, absent = [] }: { readonly kinds: readonly Kind[]; readonly absent?: readonly Kind[] | undefined },
): number[] {
  const count = new Map<Kind, number>()
  const places = new Map<Kind, Set<string>>()
  for (const row of rows) {
    const { kind, night, camera } = crops[row]!
    count.set(kind, (count.get(kind) ?? 0) + 1)
    const seen = places.get(kind) ?? new Set()
    places.set(kind, seen.add(nightCameraOf({ night, camera })))
  }
  const learned = [...kinds.keys()].filter(
    (place) =>
      absent.includes(kinds[place]!) ||
      ((count.get(kinds[place]!) ?? 0) >= LEAST_CROPS &&
        (places.get(kinds[place]!)?.size ?? 0) >= LEAST_NIGHT_CAMERAS),
  )
  return learned.length < 2 ? [] : learned
}

/** Photos of one night at one camera are alike: they are one witness. */
export const nightCameraOf = ({ night, camera }: Pick<CheckedCrop, 'night' | 'camera'>): string =>
  JSON.stringify([night, camera])
