/** How right one version of the models is on the photos that people spoke of. */
import { type Name, SPECIES, type Species, type Tally, type ThresholdsBySpecies } from '../words.ts'
import { binomialInterval, type ShareInterval } from './binomial-interval.ts'
import { boxTruths } from './box-truth.ts'
import { brierScore } from './brier-score.ts'
import { type ConfusionTable, confusionTable, type NamedAnimal } from './confusion.ts'
import type { Light } from './light.ts'
import { type ReliabilityBin, reliabilityCurve, type Scored } from './reliability.ts'

/** A photo with a person's count on it, and the boxes that the models found. */
export interface SpokenPhoto {
  readonly cameraId: number
  readonly light: Light
  readonly counts: Tally
  readonly boxes: ReadonlyArray<{ readonly species: Species; readonly score: number }>
  /** It was drawn for a blind look; else a person chose to speak of it, with the boxes before their eyes. */
  readonly blind: boolean
}

export interface RightOf {
  readonly right: number
  readonly of: number
  readonly share: ShareInterval | null
}

export interface ModelEvidence {
  readonly photos: number
  /** Of them drawn for a blind look. */
  readonly blind: number
  /** Photos left out of the table: it can't be told which box is which. */
  readonly untold: number
  readonly confusion: ConfusionTable<Name>
  readonly byLight: ReadonlyArray<RightOf & { readonly light: Light }>
  readonly byCamera: ReadonlyArray<RightOf & { readonly cameraId: number }>
  readonly reliability: readonly ReliabilityBin[]
  /** 0 to 2 (services/tally/brier-score.ts); null without boxes. */
  readonly brier: number | null
}

const NAMES: readonly Name[] = [...SPECIES, 'other']
const LIGHTS: readonly Light[] = ['day', 'infra-red', 'not measured']

export function modelEvidence(
  photos: readonly SpokenPhoto[],
  thresholds: ThresholdsBySpecies,
): ModelEvidence {
  const told = photos.map((photo) => ({ photo, boxes: boxTruths(photo.boxes, photo.counts, thresholds) }))
  const boxesOf = (is: (photo: SpokenPhoto) => boolean) =>
    told.flatMap(({ photo, boxes }) => (is(photo) ? (boxes ?? []) : []))
  const scored = photos.flatMap(scoresOf)
  const cameraIds = [...new Set(photos.map(({ cameraId }) => cameraId))].sort((a, b) => a - b)
  return {
    photos: photos.length,
    blind: photos.filter(({ blind }) => blind).length,
    untold: told.filter(({ boxes }) => boxes === null).length,
    confusion: confusionTable(
      boxesOf(() => true),
      NAMES,
    ),
    byLight: LIGHTS.map((light) => ({ light, ...rightOf(boxesOf((photo) => photo.light === light)) })).filter(
      ({ of }) => of > 0,
    ),
    byCamera: cameraIds.map((cameraId) => ({
      cameraId,
      ...rightOf(boxesOf((photo) => photo.cameraId === cameraId)),
    })),
    reliability: reliabilityCurve(scored),
    brier: brierScore(
      scored.map(({ score, isSo }) => ({ chances: [score, 1 - score], truth: isSo ? 0 : 1 })),
    ),
  }
}

function rightOf(boxes: readonly NamedAnimal<Name>[]): RightOf {
  const right = boxes.filter(({ truth, named }) => truth === named).length
  return { right, of: boxes.length, share: boxes.length === 0 ? null : binomialInterval(right, boxes.length) }
}

/** The best box of each species: of photos scored about 0.7 for camels, are seven in ten of camels? */
function scoresOf({ boxes, counts }: SpokenPhoto): Scored[] {
  return SPECIES.flatMap((species) => {
    const scores = boxes.filter((box) => box.species === species).map(({ score }) => score)
    return scores.length === 0 ? [] : [{ score: Math.max(...scores), isSo: (counts[species] ?? 0) > 0 }]
  })
}
