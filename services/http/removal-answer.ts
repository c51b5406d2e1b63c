/** How many there were before a program, as the API answers it: by both methods, each refused where its conditions are not met. */
import { catchPerEffort } from '../planning/catch-per-effort.ts'
import { moreRounds } from '../planning/more-rounds.ts'
import { removalEstimate } from '../planning/removal.ts'
import { roundsTaken, type TakenHead } from '../planning/removal-rounds.ts'
import type { DidItWorkAsked } from './did-it-work-doors.ts'
import type { RemovalAnswer } from './did-it-work-shapes.ts'
import { rounded } from './rounded.ts'

const PER_CENT = 100

export function removalOf(
  taken: readonly TakenHead[],
  { round, effort, share }: Pick<DidItWorkAsked, 'round' | 'effort' | 'share'>,
): RemovalAnswer {
  const found = roundsTaken(taken, { length: round, equalEffort: effort === 'equal' })
  if (found.kind === 'none') return found
  const { rounds, unit } = found
  const equal = removalEstimate(rounds)
  const unequal = catchPerEffort(rounds)
  return {
    kind: 'rounds',
    unit,
    rounds: rounds.map((one) => ({ ...one, effort: rounded(one.effort) })),
    equal:
      equal.kind === 'refused'
        ? equal
        : {
            kind: 'estimate',
            head: equal.head,
            standardError: rounded(equal.standardError),
            low: equal.low,
            high: equal.high,
            caught: equal.caught,
            chance: rounded(equal.chance),
            byZippin: rounded(equal.byZippin),
            fitP: rounded(equal.fit.p),
            moreRounds: moreRounds(equal, share / PER_CENT),
          },
    unequal:
      unequal.kind === 'refused'
        ? unequal
        : {
            kind: 'estimate',
            head: rounded(unequal.head),
            low: rounded(unequal.low),
            high: rounded(unequal.high),
            caught: unequal.caught,
            perEffort: rounded(unequal.perEffort),
          },
  }
}
