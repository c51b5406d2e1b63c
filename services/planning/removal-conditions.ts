/** When a falling catch can tell how many there were, and when not. A refusal is an answer: it says what is wrong. */
import { incompleteGamma } from '../tally/special-functions.ts'

/** One round of removal: a day's shoot, a week's trapping. */
export interface Round {
  /** Head taken, whole, at least 0. */
  readonly head: number
  /** Hours, hunters, trap nights: any unit, over 0, the same for all rounds. */
  readonly effort: number
  /** Head let go again, or seen to have come in from outside since the round before. */
  readonly cameBack: number
}

export type RemovalRefusal =
  | 'too few rounds'
  | 'too few head'
  | 'effort differs'
  | 'animals came back'
  | 'catch not falling'
  | 'chance of being caught changed'

export interface Refused {
  readonly kind: 'refused'
  readonly why: RemovalRefusal
}
export const refused = (why: RemovalRefusal): Refused => ({ kind: 'refused', why })

/** With fewer rounds the conditions can't be checked; with fewer head chance does what it likes (common practice, no source). */
export const LEAST_ROUNDS = 3
export const LEAST_HEAD = 10
/** Rounds count as of equal effort when none is further from their mean than this part of it (common practice, no source). */
const EFFORT_APART = 0.1
/** Catches that would fit a steady chance so badly more rarely than this do not. */
const RARE = 0.05

/** What a catch comes to, as the removal methods need it. */
export interface Catch {
  readonly rounds: number
  /** T: head in all. */
  readonly caught: number
  /** X: the sum of (k - i) times the head of round i. */
  readonly early: number
}

export function catchOf(rounds: readonly Round[]): Catch {
  return {
    rounds: rounds.length,
    caught: rounds.reduce((sum, { head }) => sum + head, 0),
    early: rounds.reduce((sum, { head }, i) => sum + (rounds.length - 1 - i) * head, 0),
  }
}

/** What every method asks for. @throws RangeError for head that is not whole, or effort that is not over 0 */
export function commonRefusal(rounds: readonly Round[], leastRounds: number): RemovalRefusal | null {
  for (const { head, effort } of rounds)
    if (!(Number.isInteger(head) && head >= 0 && effort > 0))
      throw new RangeError(`${head} head with an effort of ${effort} is no round`)
  if (rounds.length < leastRounds) return 'too few rounds'
  if (catchOf(rounds).caught < LEAST_HEAD) return 'too few head'
  return rounds.some(({ cameBack }) => cameBack > 0) ? 'animals came back' : null
}

/**
 * What rounds of equal effort are asked for as well. The catch falls when the sum of (k + 1 - 2i) c_i is over 0: else
 * Zippin's equation has no answer (Seber & Whale 1970, Biometrics 26:393-400, doi:10.2307/2529094, from memory).
 */
export function equalEffortRefusal(rounds: readonly Round[]): RemovalRefusal | null {
  const mean = rounds.reduce((sum, { effort }) => sum + effort, 0) / rounds.length
  if (rounds.some(({ effort }) => Math.abs(effort - mean) > EFFORT_APART * mean)) return 'effort differs'
  const { rounds: k, caught, early } = catchOf(rounds)
  return 2 * early > caught * (k - 1) ? null : 'catch not falling'
}

export interface Fit {
  readonly chiSquare: number
  readonly degrees: number
  /** The chance of catches that fit a steady chance no better. */
  readonly p: number
}

/** Chi-square of the catches against N p q^(i-1) (Zippin 1958, Journal of Wildlife Management 22:82-90, doi:10.2307/3797301). */
export function fitOf(rounds: readonly Round[], { head, chance }: { head: number; chance: number }): Fit {
  const chiSquare = rounds.reduce((sum, round, i) => {
    const expected = head * chance * (1 - chance) ** i
    return expected === 0 ? sum : sum + (round.head - expected) ** 2 / expected
  }, 0)
  const degrees = rounds.length - 2
  return { chiSquare, degrees, p: 1 - incompleteGamma(degrees / 2, chiSquare / 2) }
}

export const fitsBadly = ({ p }: Fit): boolean => p < RARE
