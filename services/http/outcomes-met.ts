/** What a program took, summed by point, day and fate. */
import type { Outcome } from '../store/outcomes.ts'
import { FATES, isGone } from '../tally/fates.ts'
import { SPECIES, type Species } from '../words.ts'
import type { DidItWorkAnswer } from './did-it-work-shapes.ts'

export function outcomesMet(
  outcomes: readonly Outcome[],
  { species, names }: { readonly species: Species; readonly names: ReadonlyMap<number, string> },
): DidItWorkAnswer['met'] {
  const its = outcomes.filter((one) => one.species === species)
  const points = [...new Set(its.map(({ pointId }) => pointId))]
  const days = [...new Set(its.map(({ day }) => day))].sort()
  return {
    ...takenOf(its),
    byFate: FATES.map((fate) => ({ fate, head: headOf(its.filter((one) => one.fate === fate)) })).filter(
      ({ head }) => head > 0,
    ),
    points: points.map((pointId) => ({
      pointId,
      name: names.get(pointId) ?? String(pointId),
      ...takenOf(its.filter((one) => one.pointId === pointId)),
    })),
    days: days.map((day) => ({ day, ...takenOf(its.filter((one) => one.day === day)) })),
    others: SPECIES.filter((one) => one !== species)
      .map((one) => ({ species: one, head: headOf(outcomes.filter((outcome) => outcome.species === one)) }))
      .filter(({ head }) => head > 0),
  }
}

const headOf = (outcomes: readonly Outcome[]) => outcomes.reduce((sum, { head }) => sum + head, 0)

const takenOf = (outcomes: readonly Outcome[]) => ({
  head: headOf(outcomes.filter(({ fate }) => isGone(fate))),
  released: headOf(outcomes.filter(({ fate }) => !isGone(fate))),
})
