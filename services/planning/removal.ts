/** How many there were, from a catch that falls as they get fewer: rounds of equal effort. */
import {
  type Catch,
  catchOf,
  commonRefusal,
  equalEffortRefusal,
  type Fit,
  fitOf,
  fitsBadly,
  LEAST_ROUNDS,
  type Refused,
  type Round,
  refused,
} from './removal-conditions.ts'
import { chanceFor, likelyHead } from './removal-likelihood.ts'

export interface RemovalEstimate {
  readonly kind: 'estimate'
  /** That were there before the first round, by the weighted likelihood. */
  readonly head: number
  readonly standardError: number
  readonly low: number
  /** Null: the catch falls too little to say how many at most. */
  readonly high: number | null
  readonly caught: number
  /** The chance that one of them is caught in a round. */
  readonly chance: number
  /** The same at the high end; null where there is none. */
  readonly chanceAtHigh: number | null
  /** By Zippin's equation, to compare; not whole. */
  readonly byZippin: number
  readonly fit: Fit
}

/**
 * Head before the first round from at least three rounds of equal effort, in order: Carle & Strub 1978, Biometrics
 * 34:621-630, doi:10.2307/2530381, with a flat prior for the chance (alpha = beta = 1); standard error after Zippin 1958,
 * Journal of Wildlife Management 22:82-90, doi:10.2307/3797301; limits by the likelihood (removal-likelihood.ts). Refused
 * where its conditions are not met (removal-conditions.ts).
 */
export function removalEstimate(rounds: readonly Round[]): RemovalEstimate | Refused {
  const why = commonRefusal(rounds, LEAST_ROUNDS) ?? equalEffortRefusal(rounds)
  if (why !== null) return refused(why)
  const given = catchOf(rounds)
  const head = weightedLikeliest(given)
  const chance = chanceFor(head, given)
  const fit = fitOf(rounds, { head, chance })
  if (fitsBadly(fit)) return refused('chance of being caught changed')
  const { low, high } = likelyHead(given)
  return {
    kind: 'estimate',
    head,
    standardError: standardError({ head, chance, rounds: given.rounds }),
    low,
    high,
    caught: given.caught,
    chance,
    chanceAtHigh: high === null ? null : chanceFor(high, given),
    byZippin: zippin(given),
    fit,
  }
}

/** The smallest N that one more would not make likelier, the chance weighed out: their equation for integers. */
function weightedLikeliest({ rounds: k, caught, early }: Catch): number {
  for (let head = caught; ; head++) {
    let ratio = (head + 1) / (head + 1 - caught)
    for (let i = 1; i <= k; i++)
      ratio *= (k * head - early - caught + 1 + k - i) / (k * head - early + 2 + k - i)
    if (ratio <= 1) return head
  }
}

function standardError({
  head,
  chance,
  rounds: k,
}: {
  head: number
  chance: number
  rounds: number
}): number {
  const q = 1 - chance
  if (q === 0) return 0
  const all = 1 - q ** k
  return Math.sqrt((head * all * q ** k) / (all ** 2 - (k * chance) ** 2 * q ** (k - 1)))
}

const HALVINGS = 200

/** N = T / (1 - q^k), where q / p - k q^k / (1 - q^k) is the mean number of rounds an animal lived through. */
function zippin({ rounds: k, caught, early }: Catch): number {
  const mean = (caught * (k - 1) - early) / caught
  let [low, high] = [0, 1]
  for (let i = 0; i < HALVINGS; i++) {
    const q = (low + high) / 2
    if (q === 1 || q / (1 - q) - (k * q ** k) / (1 - q ** k) > mean) high = q
    else low = q
  }
  return caught / (1 - low ** k)
}
