/** What a still comes to: how many of each species, whether it is worth a person's look, and why. */
import type { Box, Sighted, Species, Tally, ThresholdsBySpecies } from '../words.ts'

/** A box with the pooled score of the second best of the five species, 0 to 1. */
export type JudgedBox = Sighted & { readonly runnerUp: number }

export interface Judgement {
  /** Boxes at or over their species' count threshold. */
  readonly tally: Tally
  /** Worth a look: a feral species at or over its flag threshold, or unsure. */
  readonly flagged: boolean
  /** A feral species is on it at or over its flag threshold. */
  readonly feral: boolean
  /** The count or the name may well be wrong. */
  readonly unsure: boolean
}

/**
 * Intersection over union from which two boxes overlap heavily: one animal found twice, or two of which one
 * hides the other. Suppression (models/manifest.json) has already dropped one of any two over 0.5, so the
 * doubt lies below that; two boxes of one size that share half of each have 1/3. Animals that stand side by
 * side at a trough share less, and most plain cattle stills must not come up for a look.
 */
export const HEAVY_OVERLAP_IOU = 0.3
/**
 * Two species are close when the second best score is at least this part of the best. A score goes with the
 * square root of the name's probability (models/manifest.json, score), so at the root of a half the second
 * name is at least half as likely as the first. Nearer to 1 it misses names that are wrong, nearer to 0 it
 * doubts cattle named rightly.
 */
export const CLOSE_RUNNER_UP = Math.SQRT1_2

/**
 * Judges one still from the boxes the eye found on it, by the owner's thresholds and feral species. Boxes
 * under the flag threshold have no say beyond the tally (an owner may set `flag` above `count`).
 */
export function judgeStill(given: {
  readonly found: readonly JudgedBox[]
  readonly thresholds: ThresholdsBySpecies
  readonly feral: ReadonlySet<Species>
}): Judgement {
  const { found, thresholds, feral } = given
  const tally: Partial<Record<Species, number>> = {}
  for (const { species, score } of found) {
    if (score >= thresholds[species].count) tally[species] = (tally[species] ?? 0) + 1
  }
  const boxes = found.filter(({ species, score }) => score >= thresholds[species].flag)
  const unsure =
    boxes.some(({ species, score }) => score < thresholds[species].count) ||
    boxes.some(({ score, runnerUp }) => runnerUp >= CLOSE_RUNNER_UP * score) ||
    boxes.some((a, i) => boxes.slice(i + 1).some((b) => overlapOf(a.box, b.box) >= HEAVY_OVERLAP_IOU))
  const isFeral = boxes.some(({ species }) => feral.has(species))
  return { tally, unsure, feral: isFeral, flagged: unsure || isFeral }
}

/** Intersection over union of two boxes, 0 to 1; 0 where either has no area. */
function overlapOf(a: Box, b: Box): number {
  const width = Math.min(a[2], b[2]) - Math.max(a[0], b[0])
  const height = Math.min(a[3], b[3]) - Math.max(a[1], b[1])
  if (width <= 0 || height <= 0) return 0
  const both = width * height
  return both / (areaOf(a) + areaOf(b) - both)
}

const areaOf = (box: Box): number => (box[2] - box[0]) * (box[3] - box[1])
