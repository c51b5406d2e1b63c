/** What a station knows of its own animals, as the API says it. */
import type { House } from '../house.ts'
import { BASE_NAMES } from '../learning/kinds.ts'
import { LEAST_CROPS, LEAST_NIGHT_CAMERAS } from '../learning/learned-kinds.ts'
import { nextAsking } from '../learning/trial.ts'
import { toStationTime } from '../station-time.ts'
import { type LabelledCrop, listLabelledCrops } from '../store/checked-crops.ts'
import { toInstant } from '../store/instants.ts'
import { lastAsking, listNamers, type NamerView, readNamerSettings } from '../store/namers.ts'
import { listOwnKinds, type OwnKind } from '../store/own-kinds.ts'
import { readSettings } from '../store/settings.ts'
import type { Zone } from '../words.ts'
import type { KindsAnswer, NamersAnswer } from './own-animal-shapes.ts'

export function kindsOf(kinds: readonly OwnKind[], zone: Zone): KindsAnswer {
  return {
    kinds: kinds.map(({ name, madeAt }) => ({ name, madeAt: toStationTime(toInstant(madeAt), zone) })),
  }
}

export async function namersOf({ ledger, models, learning }: House): Promise<NamersAnswer> {
  const { zone, thresholds: marks } = await readSettings(ledger)
  const ownKinds = (await listOwnKinds(ledger)).map(({ name }) => name)
  const canLearn = models.namerSha256 !== null
  const [settings, versions, labelled, before] = await Promise.all([
    readNamerSettings(ledger),
    listNamers(ledger),
    canLearn ? listLabelledCrops(ledger, { models, marks, ownKinds }) : [],
    lastAsking(ledger, models),
  ])
  return {
    canLearn,
    isOn: settings.isOn,
    takesNew: settings.takesNew,
    inUse: settings.isOn ? settings.inUse : null,
    absent: [...settings.absent],
    atWork: learning.isAtWork(),
    animals: labelled.length,
    triedAt: nextAsking(before?.crops ?? null),
    ofEach: [...BASE_NAMES, ...ownKinds].map((kind) => checkedOf(labelled, kind)),
    versions: versions.map((row) => versionOf(row, zone)),
  }
}

function checkedOf(labelled: readonly LabelledCrop[], kind: string) {
  const of = labelled.filter((one) => one.kind === kind)
  const nights = new Set(of.map(({ night, cameraId }) => `${night} ${cameraId}`)).size
  return {
    kind,
    animals: of.length,
    nights,
    enough: of.length >= LEAST_CROPS && nights >= LEAST_NIGHT_CAMERAS,
  }
}

function versionOf(row: NamerView, zone: Zone): NamersAnswer['versions'][number] {
  const { trial } = row
  return {
    version: row.id,
    madeAt: toStationTime(toInstant(row.made_at), zone),
    animals: row.crops,
    kinds: row.learned.map((place) => row.kinds[place]!),
    seed: row.seed,
    ridge: row.ridge,
    verdict: row.verdict,
    trial: {
      animals: trial.crops,
      nights: trial.nightCameras,
      wrongBefore: trial.baseWrong,
      wrongNow: trial.stationWrong,
      p: trial.p,
      ofEach: trial.ofEach.map((one) => ({
        name: one.name,
        animals: one.crops,
        missedBefore: one.baseWrong,
        missedNow: one.stationWrong,
        falseBefore: one.baseFalse,
        falseNow: one.stationFalse,
        worse: one.isSpoilt,
      })),
    },
  }
}
