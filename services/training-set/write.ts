/** A training set in a folder. */
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { Refusal } from '../refusal.ts'
import {
  ANNOTATIONS,
  DESCRIPTION,
  IMAGES,
  makeTrainingSet,
  type TrainingSet,
  type TrainingSetSource,
} from './make.ts'

const PICTURE_NAME = /^photo-\d+\.(jpeg|png|webp)$/

/**
 * Run again it writes what is new and removes the pictures that do not belong any more: one on which a person was marked
 * meanwhile must not stay. Nothing else in the folder is touched.
 * @throws Refusal where another's annotations stand in the folder
 */
export async function writeTrainingSet({
  folder,
  ...source
}: TrainingSetSource & { readonly folder: string }): Promise<TrainingSet> {
  await refuseOthers(folder)
  const pictures = join(folder, IMAGES)
  // One by one: Node.js tries for ever to make folders where none can be made (/proc).
  for (const made of [folder, pictures]) await mkdir(made).catch(unlessThere)
  return await makeTrainingSet(source, {
    async picture(file, bytes) {
      const path = join(pictures, file)
      const there = await stat(path).catch(() => null)
      if (there?.size !== bytes.length) await writeWhole(path, bytes)
    },
    async annotations(text, files) {
      await writeWhole(join(folder, ANNOTATIONS), text)
      for (const file of await readdir(pictures))
        if (PICTURE_NAME.test(file) && !files.has(file)) await rm(join(pictures, file), { force: true })
    },
  })
}

function unlessThere(fault: unknown): void {
  if (!(fault instanceof Error && 'code' in fault && fault.code === 'EEXIST')) throw fault
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
