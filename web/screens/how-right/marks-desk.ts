/** Choosing marks by what they would do: pure functions over the steps that the service gives. */
import type { MarksAnswer } from '../../../services/http/evidence-shapes.ts'
import { cheapestThreshold } from '../../../services/tally/threshold-curve.ts'

export type Step = MarksAnswer['steps'][number]

export interface Marks {
  readonly flag: number
  readonly count: number
}

export const marksNow = ({ flagThreshold, countThreshold }: MarksAnswer): Marks => ({
  flag: flagThreshold,
  count: countThreshold,
})

/** The step of a mark; all marks that can be chosen have one. */
export function stepAt(steps: readonly Step[], mark: number): Step {
  return steps.find((step) => step.mark === mark) ?? steps[0]!
}

/** A mark to look from above the one to count from takes that along, and the other way round. */
export function withFlag({ count }: Marks, flag: number): Marks {
  return { flag, count: Math.max(flag, count) }
}

export function withCount({ flag }: Marks, count: number): Marks {
  return { flag: Math.min(flag, count), count }
}

/** The step that costs least, where a missed photo costs as much as so many false flags; null where no word tells. */
export function cheapestMark(steps: readonly Step[], missCost: number): number | null {
  if (steps.every(({ recall }) => recall === null) || steps.length === 0) return null
  // By falling mark, as a curve runs: of equals the lowest is taken, which misses least.
  const curve = steps.map((step) => ({ ...step, threshold: step.mark })).sort((a, b) => b.mark - a.mark)
  return cheapestThreshold(curve, missCost).threshold
}
