/** How right each version of the models is on photos with a word on them. */
import type { ModelFigures } from '../model-figures.ts'
import type { ModelRow, SpokenOfModel } from '../store/evidence-words.ts'
import { identityOf } from '../store/models.ts'
import type { Settings } from '../store/settings.ts'
import { modelEvidence } from '../tally/model-evidence.ts'
import type { ModelIdentity } from '../words.ts'
import type { ModelEvidenceAnswer } from './evidence-shapes.ts'

export interface ModelEvidenceRead {
  readonly spoken: readonly SpokenOfModel[]
  readonly settings: Settings
  readonly cameras: ReadonlyArray<{ readonly id: number; readonly name: string }>
  readonly present: ModelIdentity
  readonly figures: ModelFigures | null
}

export function modelEvidenceAnswerOf({
  spoken,
  settings,
  cameras,
  present,
  figures,
}: ModelEvidenceRead): ModelEvidenceAnswer {
  return {
    models: spoken.map(({ model, photos, learnedFrom }) => {
      const { byCamera, confusion, byLight, reliability, ...told } = modelEvidence(
        photos,
        settings.thresholds,
      )
      return {
        ...told,
        learnedFrom,
        models: { ...identityOf(model), stationNamer: model.station_namer },
        present: isSame(identityOf(model), present),
        confusion: {
          ...confusion,
          names: [...confusion.names],
          counts: confusion.counts.map((row) => [...row]),
        },
        byLight: [...byLight],
        byCamera: byCamera.map((one) => ({
          ...one,
          cameraName: cameras.find(({ id }) => id === one.cameraId)?.name ?? String(one.cameraId),
        })),
        reliability: [...reliability],
        card: isOf(model, figures) ? figures.sets : null,
      }
    }),
  }
}

/** The figures are of one version and of the models alone, and say nothing of another. */
function isOf(model: ModelRow, figures: ModelFigures | null): figures is ModelFigures {
  return (
    figures !== null &&
    figures.model.name === model.name &&
    figures.model.version === model.version &&
    model.station_namer === null
  )
}

const isSame = (a: ModelIdentity, b: ModelIdentity) =>
  a.name === b.name &&
  a.version === b.version &&
  a.detectorSha256 === b.detectorSha256 &&
  a.namerSha256 === b.namerSha256 &&
  (a.stationNamer ?? null) === (b.stationNamer ?? null)
