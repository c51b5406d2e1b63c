/** Makes a training set of what people checked: pictures one by one, then the file that tells of them. */
import sharp from 'sharp'
import { fileKind } from '../picture-formats.ts'
import { toStationTime } from '../station-time.ts'
import { type CheckedPhotoRow, checkedPhotos } from '../store/checked-photos.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import { readSettings } from '../store/settings.ts'
import type { StillFiles } from '../store/still-files.ts'
import { version } from '../version.ts'
import type { Instant, Zone } from '../words.ts'
import { animalsOn, type CocoImage, cocoOf, type ImageWithAnimals } from './coco.ts'

export const ANNOTATIONS = 'annotations.json'
export const IMAGES = 'images'
/** How `info.description` begins in every set made here. */
export const DESCRIPTION = 'Checked photos of '
const JPEG_QUALITY = 95

export interface TrainingSet {
  readonly photos: number
  readonly animals: number
  /** Photos on which a box could be one animal or another. */
  readonly unclear: number
  /** Photos whose bytes are not where they lie, or not as they came. */
  readonly gone: number
}

/** Where it goes; the annotations come last. */
export interface TrainingSetSink {
  picture(file: string, bytes: Buffer): Promise<void>
  annotations(text: string, files: ReadonlySet<string>): Promise<void>
}

export interface TrainingSetSource {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly now: Instant
  readonly signal: AbortSignal
  /** Told how many photos are written. */
  readonly onPhoto?: (photos: number) => void
}

export async function makeTrainingSet(
  { ledger, files, now, signal, onPhoto }: TrainingSetSource,
  sink: TrainingSetSink,
): Promise<TrainingSet> {
  const { thresholds, name, zone } = await readSettings(ledger)
  const images: ImageWithAnimals[] = []
  let unclear = 0
  let gone = 0
  for await (const photo of checkedPhotos(ledger)) {
    signal.throwIfAborted()
    const animals = animalsOn(photo, thresholds)
    const bytes = animals === null ? null : await files.read(photo.hash)
    if (animals === null) unclear++
    else if (bytes === null) gone++
    else {
      const picture = await upright(bytes)
      const file = `photo-${photo.stillId}.${formatOf(picture)}`
      await sink.picture(file, picture)
      images.push({ image: imageOf(photo, file, zone), animals })
      onPhoto?.(images.length)
    }
  }
  const date = toStationTime(now, zone)
  const dataset = cocoOf(images, {
    description: `${DESCRIPTION}${name}`,
    version,
    contributor: name,
    url: '',
    year: Number(date.slice(0, 4)),
    date_created: date,
  })
  await sink.annotations(
    `${JSON.stringify(dataset, null, 1)}\n`,
    new Set(images.map(({ image }) => image.file_name)),
  )
  return { photos: images.length, animals: dataset.annotations.length, unclear, gone }
}

/** Boxes are on the photo as a person sees it, and few readers of training sets turn a picture as its EXIF says. */
async function upright(bytes: Buffer): Promise<Buffer> {
  const { orientation = 1 } = await sharp(bytes).metadata()
  return orientation > 1 ? await sharp(bytes).autoOrient().jpeg({ quality: JPEG_QUALITY }).toBuffer() : bytes
}

function formatOf(picture: Buffer): string {
  const kind = fileKind(picture)
  if (kind.kind !== 'picture') throw new Error('a photo that was looked at is no picture any more')
  return kind.format
}

function imageOf({ stillId, width, height, takenAt }: CheckedPhotoRow, file: string, zone: Zone): CocoImage {
  const time = toStationTime(toInstant(takenAt), zone)
  return {
    id: stillId,
    width,
    height,
    file_name: file,
    date_captured: `${time.slice(0, 10)} ${time.slice(11, 19)}`,
  }
}
