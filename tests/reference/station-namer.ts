/** How many false names the station's own namer saves on nights it has not seen, on 519 crops of an invented station. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { z } from 'zod'
import type { CheckedCrop } from '../../services/learning/crop.ts'
import { bestName, type Kind, kindsWith, sixNameOf } from '../../services/learning/kinds.ts'
import { learnStationNamer, nameByStation } from '../../services/learning/station-namer.ts'
import { modelsFolder, projectFolder } from '../../services/paths.ts'
import { inOrderOfLot } from '../../services/tally/lot.ts'
import type { NightDate } from '../../services/words.ts'
import { readModels } from '../../worker/eye/manifest.ts'
import { openNamer } from '../../worker/eye/namer.ts'
import { sessionOptions } from '../../worker/eye/sessions.ts'

const cropsFolder = join(projectFolder, 'tests', 'reference', 'station-crops')
const OWN_KINDS = ['sheep', 'dog', 'pig']
export const STATION_KINDS = kindsWith(OWN_KINDS)
const UNSEEN_NIGHTS = 4
const CROPS_A_KIND = 30

const labelsShape = z.array(
  z.object({
    file: z.string(),
    kind: z.enum(STATION_KINDS as [Kind, ...Kind[]]),
    camera: z.string(),
    night: z.int().min(0),
    found: z.array(z.number().min(0).max(1)).length(6),
  }),
)

export interface StationCrop extends CheckedCrop {
  readonly file: string
}

/** The crops as the product's own namer sees them; takes some tens of milliseconds a crop. */
export async function readStationCrops(): Promise<StationCrop[]> {
  const labels = labelsShape.parse(JSON.parse(await readFile(join(cropsFolder, 'labels.json'), 'utf8')))
  const { namer: part } = await readModels(modelsFolder)
  if (!part) throw new Error('the crops need a namer')
  const namer = await openNamer(part, sessionOptions({ onnxThreads: 1, providers: ['cpu'] }))
  const crops: StationCrop[] = []
  for (const { file, kind, camera, night, found } of labels) {
    const pixels = await sharp(join(cropsFolder, file)).removeAlpha().raw().toBuffer()
    const [named] = await namer.name([pixels])
    if (!named) throw new Error(`${file}: the namer said nothing`)
    const date = new Date(Date.UTC(2025, 5, 1 + night)).toISOString().slice(0, 10) as NightDate
    crops.push({ file, kind, camera, night: date, detector: found, ...named })
  }
  await namer.close()
  return crops
}

export interface SplitResult {
  /** Crops of the unseen nights, and how many of them each named wrongly among the six names. */
  readonly judged: number
  readonly baseWrong: number
  readonly stationWrong: number
  readonly learned: number
  readonly ridge: number
}

/** One split: four nights are kept unseen by lot, and 30 crops a kind of the others are learned from. */
export function trySplit(crops: readonly StationCrop[], split: number): SplitResult {
  const seed = `split ${split}`
  const nights = [...new Set(crops.map(({ night }) => night))]
  const unseen = new Set(inOrderOfLot(nights, { seed, nameOf: String }).slice(0, UNSEEN_NIGHTS))
  const seen = inOrderOfLot(
    crops.filter(({ night }) => !unseen.has(night)),
    { seed, nameOf: ({ file }) => file },
  )
  const learned = STATION_KINDS.flatMap((kind) =>
    seen.filter((crop) => crop.kind === kind).slice(0, CROPS_A_KIND),
  )
  const judged = crops.filter(({ night }) => unseen.has(night))
  const namer = learnStationNamer(learned, { kinds: STATION_KINDS, seed })
  const named = nameByStation(namer, judged)
  const wrong = (nameOf: (place: number) => Kind) =>
    judged.filter(({ kind }, i) => nameOf(i) !== sixNameOf(kind)).length
  return {
    judged: judged.length,
    baseWrong: wrong((i) => bestName(judged[i]!.scores)),
    stationWrong: wrong((i) => bestName(named[i]!.scores)),
    learned: learned.length,
    ridge: namer.ridge,
  }
}

/** Over several splits: the mean share of wrong names of each, and the share of false names saved. */
export function sumUp(splits: readonly SplitResult[]) {
  const mean = (of: (split: SplitResult) => number) =>
    splits.reduce((sum, split) => sum + of(split), 0) / splits.length
  const baseWrong = mean((split) => split.baseWrong / split.judged)
  const stationWrong = mean((split) => split.stationWrong / split.judged)
  return { baseWrong, stationWrong, saved: 1 - stationWrong / baseWrong }
}
