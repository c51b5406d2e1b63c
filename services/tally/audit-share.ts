/** Shares told by an audit: how often a flag is right, how often something is missed, with what may still be so. */
import type { Stratum } from './audit-draw.ts'
import { effectOfWeights, wordsLacking } from './audit-words.ts'
import { binomialInterval, type ShareInterval, USUAL_LEVEL } from './binomial-interval.ts'

/** An interval that reaches further than this from its share, to either side, says too little to show. */
export const MOST_REACH = 0.2

export type AuditShare =
  | ({ readonly kind: 'said'; readonly looked: number } & ShareInterval)
  | { readonly kind: 'not enough checked to say'; readonly more: number }

/** A drawn burst with a word, and whether it was what is being told: truly a camel, say. */
export interface AuditedHit {
  readonly stratum: string
  readonly hit: boolean
}

/**
 * The share of bursts that are hits, over all bursts of the strata, from those drawn. Precision: strata of flagged
 * bursts, a hit being truly so. Missed: strata of bursts not flagged, a hit being one that holds the species. The
 * interval is Clopper and Pearson's on as many bursts as the weighted ones are worth (Korn & Graubard 1998, Survey
 * Methodology 24:193-201); where all had the same chance that is exact. Only drawn bursts belong here: those that a person
 * chose to check were chosen for how they look.
 */
export function auditShare(
  { strata, audited }: { readonly strata: readonly Stratum[]; readonly audited: readonly AuditedHit[] },
  level = USUAL_LEVEL,
): AuditShare {
  const lacking = wordsLacking({ strata, audited })
  const looked = audited.length
  if (looked === 0)
    return { kind: 'not enough checked to say', more: Math.max(lacking, neededFor(0.5, level)) }
  if (lacking > 0) return { kind: 'not enough checked to say', more: lacking }
  const all = strata.reduce((sum, { bursts }) => sum + bursts, 0)
  let share = 0
  let variance = 0
  for (const { name, bursts } of strata) {
    const words = audited.filter(({ stratum }) => stratum === name)
    if (words.length === 0) continue
    const part = words.filter(({ hit }) => hit).length / words.length
    const weight = bursts / all
    share += weight * part
    if (words.length > 1)
      variance += (weight ** 2 * (1 - words.length / bursts) * part * (1 - part)) / (words.length - 1)
  }
  share = Math.min(1, share)
  // How many times the variance of as many that all had the same chance.
  const alike = (share * (1 - share)) / Math.max(1, looked - 1)
  const effect = Math.max(effectOfWeights({ strata, audited }), alike > 0 ? variance / alike : 0)
  const worth = looked / effect
  const interval = binomialInterval(Math.min(worth, share * worth), worth, level)
  if (reachOf(interval) <= MOST_REACH) return { kind: 'said', looked, ...interval, share }
  const needed = neededFor(share, level)
  return { kind: 'not enough checked to say', more: Math.max(1, Math.ceil((needed - worth) * effect)) }
}

/**
 * How many of the animals' bursts are found: of `flagged` bursts the share `right` is truly so; of `unflagged` ones the
 * share `missed` holds the species all the same. The limits take both at their worst, so each should be of a level that
 * leaves half the chance out (Bonferroni): 0.975 for 0.95. Null when nothing was found and nothing missed.
 */
export function recallOf(given: {
  readonly flagged: number
  readonly right: ShareInterval
  readonly unflagged: number
  readonly missed: ShareInterval
}): ShareInterval | null {
  const { flagged, right, unflagged, missed } = given
  const recall = (found: number, lost: number) => (found + lost > 0 ? found / (found + lost) : 0)
  if (flagged * right.high + unflagged * missed.high === 0) return null
  return {
    share: recall(flagged * right.share, unflagged * missed.share),
    low: recall(flagged * right.low, unflagged * missed.high),
    high: recall(flagged * right.high, unflagged * missed.low),
  }
}

const reachOf = ({ share, low, high }: ShareInterval) => Math.max(share - low, high - share)

/** The fewest bursts, all with the same chance, that say a share to within `MOST_REACH`. */
function neededFor(share: number, level: number): number {
  let of = 1
  while (reachOf(binomialInterval(share * of, of, level)) > MOST_REACH) of++
  return of
}
