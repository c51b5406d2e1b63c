/** `hooftally training-set FOLDER`: checked photos with their boxes, for whoever trains models. */
import { resolve } from 'node:path'
import { readTrainingSetConfig } from '../config/commands.ts'
import { Refusal } from '../refusal.ts'
import { openStationData } from '../store/data-folder.ts'
import { ANNOTATIONS, IMAGES, type TrainingSet } from '../training-set/make.ts'
import { writeTrainingSet } from '../training-set/write.ts'
import type { Instant } from '../words.ts'
import { sayEvery, sayLine } from './say.ts'
import { stopSignal } from './until-stopped.ts'

const HELP = `hooftally training-set FOLDER [--data DIR]: checked photos with their boxes, to train models on

FOLDER gets ${ANNOTATIONS} in the COCO data format and the photos in ${IMAGES}. A photo is in it when a word on its count
stands and leaves no doubt which box is which animal; boxes that people drew are in it too. A photo on which a person was
marked is never in it. Run again, it writes what is new and removes what does not belong any more. docs/learning.md says more.
`

export async function runTrainingSet(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readTrainingSetConfig(args, process.env)
  const folder = resolve(config.folder)
  const signal = stopSignal()
  const data = await openStationData({ ...config, log: () => undefined, besideService: true })
  const say = sayEvery()
  try {
    const set = await writeTrainingSet({
      ledger: data.ledger,
      files: data.files,
      folder,
      now: Date.now() as Instant,
      signal,
      onPhoto: (photos) => say(() => `${photos} photos written`),
    })
    return sayTrainingSet(set, folder)
  } catch (fault) {
    throw trainingSetRefusal(fault, { folder, stopped: signal.aborted })
  } finally {
    await data.close()
  }
}

function sayTrainingSet({ photos, animals, unclear, gone }: TrainingSet, folder: string): number {
  sayLine(`${photos} photos with ${animals} animals are in ${folder}.`)
  if (unclear > 0)
    sayLine(`${unclear} checked photos were left out: a box on them could be one animal or another.`)
  if (gone === 0) return 0
  process.stderr.write(
    `The bytes of ${gone} photos are missing or damaged where the photos lie.\nLook at Health in Set-up, and at the disk.\n`,
  )
  return 1
}

/** What a disk or a folder says, in words; any other fault as it is. */
export function trainingSetRefusal(
  fault: unknown,
  { folder, stopped }: { readonly folder: string; readonly stopped: boolean },
): unknown {
  if (stopped) {
    return new Refusal({
      kind: 'unavailable',
      detail: `Stopped: ${folder} holds a part of the photos.`,
      remedy: 'Run the same command again: what is written stays.',
    })
  }
  const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
  if (['ENOSPC', 'EDQUOT', 'EFBIG'].includes(code)) {
    return new Refusal({
      kind: 'no room',
      detail: `There is no room for the photos in ${folder}: the disk is full.`,
      field: 'FOLDER',
      remedy: 'Make room, or name a folder on another disk, and run it again: what is written stays.',
    })
  }
  if (['ENOENT', 'EACCES', 'EROFS', 'ENOTDIR', 'EPERM', 'EEXIST'].includes(code)) {
    return new Refusal({
      kind: 'bad input',
      detail: `${folder} could not be written to (${code}).`,
      field: 'FOLDER',
      remedy: 'Name a folder that you may write to, or a new one inside such a folder.',
    })
  }
  return fault
}
