/** One box an animal: of boxes that lie on each other only the surest is kept. */
import type { Box } from '../../services/words.ts'

export interface Candidate {
  readonly box: Box
  /** The largest of the detector's six scores. */
  readonly p: number
}

export interface OverlapLimits {
  readonly overlapLimit: number
  readonly insideLimit: number
}

function area([x0, y0, x1, y1]: Box): number {
  return Math.max(0, x1 - x0) * Math.max(0, y1 - y0)
}

function sharedArea(a: Box, b: Box): number {
  return area([Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.min(a[2], b[2]), Math.min(a[3], b[3])])
}

/** Intersection over union of two boxes, 0 (apart) to 1 (the same); 0 where neither has an area. */
export function intersectionOverUnion(a: Box, b: Box): number {
  const shared = sharedArea(a, b)
  return shared === 0 ? 0 : shared / (area(a) + area(b) - shared)
}

/** The share of the smaller box that lies within the larger, 0 to 1. */
export function shareOfSmaller(a: Box, b: Box): number {
  const shared = sharedArea(a, b)
  return shared === 0 ? 0 : shared / Math.min(area(a), area(b))
}

/**
 * Greedy suppression in order of `p` (models/manifest.json, pooling, one_box_an_animal), whatever the species:
 * a box inside another is most often a head or a leg of the same animal.
 * @returns the kept boxes, surest first
 */
export function oneBoxAnAnimal<C extends Candidate>(found: readonly C[], limits: OverlapLimits): C[] {
  const kept: C[] = []
  for (const next of found.toSorted((a, b) => b.p - a.p)) {
    const seen = kept.some(
      ({ box }) =>
        intersectionOverUnion(box, next.box) > limits.overlapLimit ||
        shareOfSmaller(box, next.box) > limits.insideLimit,
    )
    if (!seen) kept.push(next)
  }
  return kept
}
