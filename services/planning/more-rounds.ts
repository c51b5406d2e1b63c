/** How many more rounds it takes until a chosen share of what was there is gone. */
import type { RemovalEstimate } from './removal.ts'

export interface MoreRounds {
  /** Whole rounds of the same effort; 0: it is reached. */
  readonly expected: number
  /** At the high end of how many there were; null where nobody can say. */
  readonly atHigh: number | null
}

/**
 * From what was caught, what is left and the chance of a round: T + (N - T)(1 - q^m) is at least `share` of N. `share` is
 * over 0 and under 1, as the last animal is never sure.
 * @throws RangeError outside that
 */
export function moreRounds(estimate: RemovalEstimate, share: number): MoreRounds {
  if (!(share > 0 && share < 1))
    throw new RangeError(`a share to reach lies between 0 and 1, and this is ${share}`)
  const { head, high, caught, chance, chanceAtHigh } = estimate
  return {
    expected: roundsFor({ head, caught, chance, share }),
    atHigh:
      high === null || chanceAtHigh === null
        ? null
        : roundsFor({ head: high, caught, chance: chanceAtHigh, share }),
  }
}

function roundsFor(given: { head: number; caught: number; chance: number; share: number }): number {
  const { head, caught, chance, share } = given
  if (caught >= share * head) return 0
  // What may be left, of what is left.
  const mayStay = (head * (1 - share)) / (head - caught)
  return Math.ceil(Math.log(mayStay) / Math.log1p(-chance))
}
