/** Counts corrected by an audit: what the machine counted, and what the drawn bursts say it missed or made up. */
import type { Stratum } from './audit-draw.ts'
import { effectOfWeights, wordsLacking } from './audit-words.ts'
import { binomialInterval, tailOf, USUAL_LEVEL } from './binomial-interval.ts'
import { studentQuantile } from './special-functions.ts'

/** A drawn burst on which a person gave a word. */
export interface AuditedBurst {
  readonly stratum: string
  /** Head of one species, or visits of it: whatever is being corrected. */
  readonly machine: number
  readonly truth: number
}

export interface Audit {
  /** All strata of the draw, also those without a word. */
  readonly strata: readonly Stratum[]
  /** Only bursts that were drawn: one that a person chose says nothing of the others. */
  readonly audited: readonly AuditedBurst[]
}

export type CorrectedTotal =
  | {
      readonly kind: 'corrected'
      readonly total: number
      readonly low: number
      readonly high: number
      /** Of the total, in squared units. */
      readonly variance: number
    }
  | {
      /** Every burst that stands for others was as the machine said; so many of those others may still differ. */
      readonly kind: 'no difference found'
      readonly total: number
      readonly burstsThatMayDiffer: number
    }
  | { readonly kind: 'not enough checked to say'; readonly more: number }

/**
 * The machine's total plus the sum over drawn bursts of (true - machine) / chance of being drawn (Horvitz & Thompson 1952,
 * Journal of the American Statistical Association 47:663-685, doi:10.1080/01621459.1952.10483446), with the variance of
 * stratified simple random sampling (Cochran 1977, Sampling Techniques, 3rd edition, 5.4; the same as Sen's and Yates &
 * Grundy's 1953 for this draw) and an interval of Student's t with Satterthwaite's degrees of freedom (Cochran 1977,
 * 5.4). Where differences are few and large the interval is rough. A drawn burst without a word is stood for by the others
 * of its stratum. `known`: sum of (true - machine) over bursts checked before the draw, which stand for themselves.
 * The interval does not go below 0.
 */
export function correctedTotal(
  { strata, audited }: Audit,
  given: { readonly machine: number; readonly known?: number; readonly level?: number },
): CorrectedTotal {
  const { machine, known = 0, level = USUAL_LEVEL } = given
  const more = wordsLacking({ strata, audited })
  if (more > 0) return { kind: 'not enough checked to say', more }
  let correction = 0
  let variance = 0
  let satterthwaite = 0
  /** Strata of which only some bursts were looked at, and what those say of the rest. */
  const sampled: Stratum[] = []
  let correctionOfSampled = 0
  for (const { name, bursts } of strata) {
    const differences = audited
      .filter(({ stratum }) => stratum === name)
      .map((one) => one.truth - one.machine)
    const count = differences.length
    if (count === 0) continue
    const mean = differences.reduce((a, b) => a + b, 0) / count
    correction += bursts * mean
    if (count >= bursts) continue
    sampled.push({ name, bursts })
    correctionOfSampled += bursts * mean
    const spread = differences.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (count - 1)
    const part = (bursts * (bursts - count) * spread) / count
    variance += part
    satterthwaite += part ** 2 / (count - 1)
  }
  const total = machine + known + correction
  if (sampled.length > 0 && variance === 0) {
    // Alike in every stratum: without any difference that is news; with some it says that too few were drawn.
    if (correctionOfSampled !== 0) return { kind: 'not enough checked to say', more: audited.length }
    const left = sampled.reduce((sum, { bursts }) => sum + bursts, 0)
    const words = audited.filter(({ stratum }) => sampled.some(({ name }) => name === stratum))
    const worth = words.length / effectOfWeights({ strata: sampled, audited: words })
    const { high } = binomialInterval(0, worth, level)
    return { kind: 'no difference found', total, burstsThatMayDiffer: Math.floor(high * left) }
  }
  const reach =
    variance === 0
      ? 0
      : studentQuantile(1 - tailOf(level), variance ** 2 / satterthwaite) * Math.sqrt(variance)
  return { kind: 'corrected', total, low: Math.max(0, total - reach), high: total + reach, variance }
}
