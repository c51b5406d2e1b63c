/** Writes a training set into a folder: pictures, then the file that tells of them. */
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { fileKind } from '../picture-formats.ts'
import { Refusal } from '../refusal.ts'
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
const DESCRIPTION = 'Checked photos of '
const PICTURE_NAME = /^photo-\d+\.(jpeg|png|webp)$/
const JPEG_QUALITY = 95

export interface TrainingSet {
  readonly photos: number
  readonly animals: number
  /** Photos on which a box could be one animal or another. */
  readonly unclear: number
  /** Photos whose bytes are not where they lie, or not as they came. */
  readonly gone: number
}

export interface TrainingSetPlaces {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly folder: string
  readonly now: Instant
  readonly signal: AbortSignal
  /** Told how many photos are written. */
  readonly onPhoto?: (photos: number) => void
}

/**
 * Run again it writes what is new and removes the pictures that do not belong any more: one on which a person was marked
 * meanwhile must not stay. Nothing else in the folder is touched.
 * @throws Refusal where another's annotations stand in the folder
 */
export async function writeTrainingSet(places: TrainingSetPlaces): Promise<TrainingSet> {
  const { ledger, files, folder, now, signal } = places
  const { thresholds, name, zone } = await readSettings(ledger)
  await refuseOthers(folder)
  await mkdir(join(folder, IMAGES), { recursive: true })
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
      const file = await writePicture(folder, photo, bytes)
      images.push({ image: imageOf(photo, file, zone), animals })
      places.onPhoto?.(images.length)
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
  await writeWhole(join(folder, ANNOTATIONS), `${JSON.stringify(dataset, null, 1)}\n`)
  await removeOthers(join(folder, IMAGES), new Set(images.map(({ image }) => image.file_name)))
  return { photos: images.length, animals: dataset.annotations.length, unclear, gone }
}

async function refuseOthers(folder: string): Promise<void> {
  const text = await readFile(join(folder, ANNOTATIONS), 'utf8').catch(() => null)
  if (text === null || text.includes(`"description": "${DESCRIPTION}`)) return
  throw new Refusal({
    kind: 'conflict',
    detail: `${folder} holds an ${ANNOTATIONS} that was not written by this command.`,
    field: 'FOLDER',
    remedy: 'Name a folder of its own for the training set.',
  })
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

/** @returns its name within the folder of pictures */
async function writePicture(folder: string, { stillId }: CheckedPhotoRow, bytes: Buffer): Promise<string> {
  // Boxes are on the photo as a person sees it; few readers of training sets turn a picture as its EXIF says.
  const turned = ((await sharp(bytes).metadata()).orientation ?? 1) > 1
  const picture = turned ? await sharp(bytes).autoOrient().jpeg({ quality: JPEG_QUALITY }).toBuffer() : bytes
  const kind = fileKind(picture)
  if (kind.kind !== 'picture') throw new Error(`photo ${stillId} is no picture any more`)
  const file = `photo-${stillId}.${kind.format}`
  const path = join(folder, IMAGES, file)
  const there = await stat(path).catch(() => null)
  if (there?.size !== picture.length) await writeWhole(path, picture)
  return file
}

/** Under its name it is whole, or as it was. */
async function writeWhole(path: string, content: Buffer | string): Promise<void> {
  const aside = `${path}.part`
  try {
    await writeFile(aside, content)
    await rename(aside, path)
  } catch (fault) {
    await rm(aside, { force: true }).catch(() => undefined)
    throw fault
  }
}

async function removeOthers(folder: string, kept: ReadonlySet<string>): Promise<void> {
  for (const file of await readdir(folder))
    if (PICTURE_NAME.test(file) && !kept.has(file)) await rm(join(folder, file), { force: true })
}
