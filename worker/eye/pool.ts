/** What two models together say of one box: the manifest's pooling. */
import { type Found, SPECIES, type Species } from '../../services/words.ts'

/**
 * Added to the detector's share of a species, so that a sure namer can overrule a detector that gave it nothing
 * (models/manifest.json, pooling, name: "q(s) = namer(s) x (0.15 + ...").
 */
export const DETECTOR_BASE = 0.15

export interface BoxScores {
  /** The detector's six scores, each 0 to 1, in the order of `NAMES`. */
  readonly detector: readonly number[]
  /** The namer's six, summing to 1; null for a detector alone. */
  readonly namer: readonly number[] | null
}

/**
 * The pooled score of each of the five species, 0 to 1 (models/manifest.json, pooling, name and score):
 * sqrt(p q), where p says that it is an animal at all and q which.
 * Without a namer q is the detector's own share, which keeps scores on the same scale.
 */
export function pooledScores({ detector, namer }: BoxScores): number[] {
  const p = Math.max(...detector)
  const sum = detector.reduce((total, score) => total + score, 0)
  if (sum <= 0) return SPECIES.map(() => 0)
  const weights = detector.map((score, i) =>
    namer ? (namer[i] ?? 0) * (DETECTOR_BASE + score / sum) : score / sum,
  )
  const total = weights.reduce((all, weight) => all + weight, 0)
  return SPECIES.map((_, i) => (total > 0 ? Math.sqrt((p * (weights[i] ?? 0)) / total) : 0))
}

/** The best of the five species ("other" is never one of them), its score, and the second best's score. */
export function bestSpecies(pooled: readonly number[]): {
  readonly species: Species
  readonly score: number
  readonly runnerUp: number
} {
  const ranked = SPECIES.map((species, i) => ({ species, score: pooled[i] ?? 0 })).sort(
    (a, b) => b.score - a.score,
  )
  const [best, second] = ranked
  if (!best || !second) throw new Error('no species to choose from')
  return { ...best, runnerUp: second.score }
}

/** The pooled score of the second best species of a box, from its kept scores; 0 to 1. */
export function runnerUpScore(found: Pick<Found, 'detector' | 'namer'>): number {
  return bestSpecies(pooledScores(found)).runnerUp
}
