/** `npm run look`: the eye tried on files and folders, one JSON object a line. */
import { readdir, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { modelsFolder } from '../../services/paths.ts'
import { Refusal } from '../../services/refusal.ts'
import { judgeStill } from '../../services/tally/judge.ts'
import { type Looked, SPECIES, type Species } from '../../services/words.ts'
import type { Eye } from './look.ts'
import { openPlannedEyes } from './open.ts'
import { runnerUpScore } from './pool.ts'
import { readEyeSettings } from './settings.ts'

/** The default owner's view: everything but cattle is feral. It has no say in the line that is printed. */
const FERAL: ReadonlySet<Species> = new Set(SPECIES.filter((species) => species !== 'cattle'))

/**
 * Looks at files, and at folders with what is in them, in name order, and prints one line for each file.
 * A file that cannot be read gets a line with its error, and the run goes on.
 * @returns the exit code: 1 when not one file could be read, else 0
 * @throws Refusal when nothing was given, or the models cannot be used
 */
export async function runLook(
  paths: readonly string[],
  out: (line: string) => void,
  open: () => Promise<Eye & { readonly atOnce?: () => number }> = openUsual,
): Promise<number> {
  if (paths.length === 0)
    throw new Refusal({
      kind: 'bad input',
      detail: 'No file or folder was given.',
      field: 'FILE-OR-FOLDER',
      remedy: 'Name at least one: npm run look -- photos/',
    })
  const eye = await open()
  const inHand: Promise<Line>[] = []
  let seen = 0
  const print = async () => {
    const line = await inHand.shift()
    if (!line) return
    if (!('error' in line)) seen++
    out(JSON.stringify(line))
  }
  try {
    for await (const file of filesOf(paths)) {
      inHand.push(lookAt(eye, file))
      if (inHand.length >= (eye.atOnce?.() ?? 2)) await print()
    }
    while (inHand.length > 0) await print()
  } finally {
    await eye.close()
  }
  return seen > 0 ? 0 : 1
}

/** A few photos are looked at sooner than a measurement is done. */
async function openUsual() {
  return (
    await openPlannedEyes({
      modelsFolder: process.env.HOOFTALLY_MODELS ?? modelsFolder,
      settings: readEyeSettings(process.env),
    })
  ).eyes
}

type Line = ReturnType<typeof lineOf> | { readonly file: string; readonly error: string }

async function lookAt(eye: Eye, file: string): Promise<Line> {
  try {
    const looked = await eye.look(await readFile(file))
    return looked.kind === 'seen' ? lineOf(file, looked, eye.thresholds) : { file, error: looked.reason }
  } catch (error) {
    return { file, error: wordsOf(error) }
  }
}

function lineOf(file: string, seen: Extract<Looked, { kind: 'seen' }>, { count, flag }: Eye['thresholds']) {
  const each = { count, flag }
  const thresholds = { cattle: each, camel: each, horse: each, donkey: each, goat: each }
  const found = seen.found.map((one) => ({ ...one, runnerUp: runnerUpScore(one) }))
  const { tally, unsure } = judgeStill({ found, thresholds, feral: FERAL })
  return {
    file,
    width: seen.width,
    height: seen.height,
    found: seen.found
      .filter(({ score }) => score >= flag)
      .map(({ species, score, box }) => ({
        species,
        score: Number(score.toFixed(3)),
        box: box.map((edge) => Math.round(edge)),
      })),
    unsure,
    tally,
  }
}

/** Every file under the paths; a path that is not there comes too, so that its reading fails with a word. */
async function* filesOf(paths: readonly string[]): AsyncGenerator<string> {
  for (const path of paths) {
    const there = await stat(path).catch(() => null)
    const names = there?.isDirectory() ? await readdir(path).catch(() => null) : null
    if (!names) {
      yield path
      continue
    }
    const shown = names.filter((name) => !name.startsWith('.')).sort()
    yield* filesOf(shown.map((name) => join(path, name)))
  }
}

function wordsOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'ENOENT') return 'There is no such file or folder.'
  if (code === 'EISDIR') return 'The folder may not be read by this user.'
  if (code === 'EACCES') return 'The file may not be read by this user.'
  return error instanceof Error ? error.message : String(error)
}
