/** Folds of whole nights: photos of one night are alike, so a night learned from must not be judged on. */
import { inOrderOfLot } from '../tally/lot.ts'
import type { CheckedCrop } from './crop.ts'

export const USUAL_FOLDS = 5

export interface Fold {
  /** Rows of the crops to learn from, and of those to judge on; no night has crops in both. */
  readonly learn: Int32Array
  readonly judge: Int32Array
}

/**
 * Shares the nights of the crops at `rows` (all, unless said) out over folds of about as many crops each, by lot; as many
 * folds as there are nights where those are fewer. No folds where all crops are of one night.
 */
export function foldsOfNights(
  crops: readonly Pick<CheckedCrop, 'night'>[],
  {
    seed,
    folds = USUAL_FOLDS,
    rows,
  }: { readonly seed: string; readonly folds?: number; readonly rows?: Int32Array },
): Fold[] {
  const all = rows ?? Int32Array.from(crops.keys())
  const nights = new Map<string, number[]>()
  for (const row of all) {
    const { night } = crops[row]!
    const ofNight = nights.get(night)
    if (ofNight === undefined) nights.set(night, [row])
    else ofNight.push(row)
  }
  if (nights.size < 2) return []
  // The fullest nights first, each to the emptiest fold; the lot decides between equals.
  const inTurn = inOrderOfLot([...nights], { seed, nameOf: ([night]) => night }).sort(
    (a, b) => b[1].length - a[1].length,
  )
  const judged: number[][] = Array.from({ length: Math.min(folds, nights.size) }, () => [])
  for (const [, ofNight] of inTurn) {
    const emptiest = judged.reduce((a, b) => (b.length < a.length ? b : a))
    emptiest.push(...ofNight)
  }
  return judged.map((judge) => {
    const out = new Set(judge)
    return { learn: all.filter((row) => !out.has(row)), judge: Int32Array.from(judge) }
  })
}
