/** What a station counts a box as, once its own namer has spoken. */
import { bestSpecies, DETECTOR_BASE, pooledScores } from '../../worker/eye/pool.ts'
import { SPECIES, type Species } from '../words.ts'
import type { SeenCrop } from './crop.ts'
import { BASE_NAMES } from './kinds.ts'
import { nameByStation, type StationNamer } from './station-namer.ts'

export interface BoxToName extends SeenCrop {
  /** The detector's six scores, each 0 to 1. */
  readonly detector: readonly number[]
}

export interface NamedByBoth {
  readonly species: Species
  /** Pooled, 0 to 1. */
  readonly score: number
  readonly runnerUp: number
  /** The six scores that take the place of the models' own. */
  readonly namer: readonly number[]
  /** The kind of the station's own that fits best, pooled as the six are; null where one of the six does, or none well. */
  readonly ownKind: string | null
}

/** Names boxes, in their order. @throws RangeError for embeddings of another length than the namer learned from */
export function nameBoxes(namer: StationNamer, boxes: readonly BoxToName[]): NamedByBoth[] {
  return nameByStation(namer, boxes).map(({ kinds, scores }, i) => {
    const { detector } = boxes[i]!
    return {
      ...bestSpecies(pooledScores({ detector, namer: scores })),
      namer: scores,
      ownKind: ownKindOf(kinds, detector, namer),
    }
  })
}

/** Pooled, 0 to 1: under it an own kind is not said (the models' usual count mark, models/manifest.json). */
const OWN_KIND_MARK = 0.5

function ownKindOf(
  kinds: readonly number[],
  detector: readonly number[],
  namer: StationNamer,
): string | null {
  const sum = detector.reduce((total, score) => total + score, 0)
  if (sum <= 0) return null
  const weights = kinds.map(
    (chance, kind) => chance * (DETECTOR_BASE + detector[Math.min(kind, SPECIES.length)]! / sum),
  )
  const best = weights.indexOf(Math.max(...weights))
  const total = weights.reduce((all, weight) => all + weight, 0)
  const score = Math.sqrt((Math.max(...detector) * weights[best]!) / total)
  return best < BASE_NAMES.length || score < OWN_KIND_MARK ? null : namer.kinds[best]!
}
