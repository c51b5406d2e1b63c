/** Did more come than before? Two spells of one species at one point, compared. */
import { binomialInterval, USUAL_LEVEL } from './binomial-interval.ts'
import { incompleteBeta } from './special-functions.ts'

/** What came in a spell; `watchedNights` over 0. */
export interface SpellCount {
  readonly visits: number
  readonly watchedNights: number
}

export interface RateChange {
  /** Twice the smaller tail, at most 1. */
  readonly p: number
  /** This spell's rate over the one before; null when nothing came in either, or nothing before. */
  readonly ratio: number | null
  readonly low: number
  /** Null: no upper limit, as nothing came before. */
  readonly high: number | null
  /** The least p that so many visits in all could have given, had all come in one of the spells. */
  readonly leastP: number
}

/**
 * The exact test of two Poisson rates given their sum (Przyborowski & Wilenski 1940, Biometrika 31:313-323,
 * doi:10.1093/biomet/31.3-4.313) with p as twice the smaller tail, and the interval of the ratio that belongs to it
 * (Clopper & Pearson 1934, binomial-interval.ts): at 95 % it leaves out 1 when, and only when, p is under 0.05. Counts are
 * divided by `dispersion` (at least 1), which widens both. The least p: Tarone 1990, Biometrics 46:515-522,
 * doi:10.2307/2531456.
 * @throws RangeError unless both were watched and dispersion is at least 1
 */
export function compareRates(
  now: SpellCount,
  before: SpellCount,
  { dispersion = 1, level = USUAL_LEVEL }: { readonly dispersion?: number; readonly level?: number } = {},
): RateChange {
  if (!(now.watchedNights > 0 && before.watchedNights > 0 && dispersion >= 1))
    throw new RangeError(
      'a change lies between two spells that were watched, with a dispersion of at least 1',
    )
  const inNow = now.visits / dispersion
  const inBefore = before.visits / dispersion
  const all = inNow + inBefore
  if (all === 0) return { p: 1, ratio: null, low: 0, high: null, leastP: 1 }
  // Were there no change, each visit would fall in this spell with this chance.
  const chance = now.watchedNights / (now.watchedNights + before.watchedNights)
  const share = binomialInterval(inNow, all, level)
  const ratioOf = (part: number) => (part / (1 - part)) * (before.watchedNights / now.watchedNights)
  return {
    p: Math.min(1, 2 * Math.min(atLeast(inNow, inBefore, chance), atLeast(inBefore, inNow, 1 - chance))),
    ratio: inBefore === 0 ? null : ratioOf(share.share),
    low: ratioOf(share.low),
    high: inBefore === 0 ? null : ratioOf(share.high),
    leastP: Math.min(1, 2 * Math.min(chance ** all, (1 - chance) ** all)),
  }
}

/** Chance of `hits` or more among `hits + misses`, each a hit with `chance` (DLMF 8.17.5); both may be fractions. */
const atLeast = (hits: number, misses: number, chance: number) =>
  hits === 0 ? 1 : incompleteBeta(chance, hits, misses + 1)
