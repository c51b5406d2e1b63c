/** What the marks of a species are set by: photos with a word on them, and what other marks would have done last week. */
import type { Species, Tally, ThresholdsBySpecies } from '../words.ts'
import { type JudgedBox, judgeStill } from './judge.ts'
import { type JudgedScore, type ThresholdPoint, thresholdCurve } from './threshold-curve.ts'

export interface WeighedPhoto {
  readonly counts: Tally
  readonly boxes: ReadonlyArray<{ readonly species: Species; readonly score: number }>
  /** How many photos it stands for: 1 where all such were looked at. */
  readonly weight: number
}

/** 0.29 * 100 is a little under 29. */
const ROUNDING = 1e-9

/** Marks to choose from: finer steps would claim more than a few hundred photos can tell. */
export const MARK_STEPS: readonly number[] = Array.from({ length: 17 }, (_, i) => (15 + 5 * i) / 100)

/** A photo is of a species by its best box of it; scores are told to a hundredth, so that a curve stays short. */
export function markCurve(photos: readonly WeighedPhoto[], species: Species): ThresholdPoint[] {
  return thresholdCurve(
    photos.map(({ counts, boxes, weight }): JudgedScore => {
      const best = Math.max(0, ...boxes.filter((box) => box.species === species).map(({ score }) => score))
      return { score: Math.floor(best * 100 + ROUNDING) / 100, isSo: (counts[species] ?? 0) > 0, weight }
    }),
  )
}

export interface MarkEffect {
  /** Both marks of the species, 0 to 1. */
  readonly mark: number
  /** Photos of the week that would be worth a look, were this the mark from which the species is worth one. */
  readonly toLookAt: number
  /** Photos of the week on which the species would be counted, were this the mark from which it is. */
  readonly counted: number
}

/**
 * What other marks of a species would have made of a week: of photos with a box of it, and `others` more that are flagged
 * anyway. A mark to look from goes with a mark to count from that is no lower.
 */
export function markEffects(
  photos: ReadonlyArray<readonly JudgedBox[]>,
  given: {
    readonly species: Species
    readonly thresholds: ThresholdsBySpecies
    readonly feral: ReadonlySet<Species>
    readonly others: number
    readonly marks: readonly number[]
  },
): MarkEffect[] {
  const { species, thresholds, feral, others, marks } = given
  return marks.map((mark) => {
    const changed = {
      ...thresholds,
      [species]: { flag: mark, count: Math.max(mark, thresholds[species].count) },
    }
    return {
      mark,
      toLookAt:
        others + photos.filter((found) => judgeStill({ found, thresholds: changed, feral }).flagged).length,
      counted: photos.filter((found) => found.some((box) => box.species === species && box.score >= mark))
        .length,
    }
  })
}

/** All the marks of a species that the effects and the curve are told for: the steps, and those it has. */
export function marksToTry(thresholds: ThresholdsBySpecies, species: Species): number[] {
  const { flag, count } = thresholds[species]
  return [...new Set([...MARK_STEPS, flag, count])].sort((a, b) => a - b)
}
