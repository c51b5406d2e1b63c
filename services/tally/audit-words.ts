/** What the words on drawn bursts are worth: whether each stratum has enough, and how many bursts they stand for. */
import type { Stratum } from './audit-draw.ts'

interface Words {
  /** All strata of the draw, also those without a word. */
  readonly strata: readonly Stratum[]
  readonly audited: readonly { readonly stratum: string }[]
}

/** Words still needed for two in each stratum (or all it holds): from one, nothing can be said of its spread. */
export function wordsLacking({ strata, audited }: Words): number {
  return strata.reduce(
    (lacking, { name, bursts }) => lacking + Math.max(0, Math.min(2, bursts) - wordsIn(name, audited)),
    0,
  )
}

/**
 * How many times less the words say than as many that all had the same chance would, by their unlike weights (Kish 1965,
 * Survey Sampling, from memory): 1 or more.
 */
export function effectOfWeights({ strata, audited }: Words): number {
  const all = strata.reduce((sum, { bursts }) => sum + bursts, 0)
  const squares = strata.reduce((sum, { name, bursts }) => {
    const words = wordsIn(name, audited)
    return words === 0 ? sum : sum + (bursts / all) ** 2 / words
  }, 0)
  return Math.max(1, audited.length * squares)
}

const wordsIn = (name: string, audited: Words['audited']) =>
  audited.filter(({ stratum }) => stratum === name).length
