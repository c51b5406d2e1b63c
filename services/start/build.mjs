/** Is dist/ the build of these sources? If not, build it. */
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { giveUp, projectFolder, runTool, say } from './run.mjs'

const SOURCES = [
  'services',
  'worker',
  'web',
  // What bench and faults run.
  'tests/bench',
  'tests/faults',
  'tests/integration',
  'tests/reference/station-namer.ts',
  'tests/stub-eye.ts',
  'tests/stub-look.ts',
  'tests/stub-serve.ts',
  'tests/stub-worker.ts',
  'tsconfig.json',
  'vite.config.ts',
  'package-lock.json',
]
const STAMP = join(projectFolder, 'dist', '.built')

export function isBuilt() {
  return existsSync(STAMP) && readFileSync(STAMP, 'utf8') === fingerprint()
}

export async function ensureBuilt() {
  if (isBuilt()) return
  say('Building.')
  const code = await build(2)
  if (code !== 0) giveUp('The build failed: the messages above say where.', code)
}

/** Compiles (which type-checks everything, tests included) and bundles the view; gives the exit code. */
export async function build(output) {
  // Taken first: a source changed while the build runs must be built again.
  const sources = fingerprint()
  rmSync(STAMP, { force: true })
  let code = await compile(output)
  if (code === 0) code = await bundleView(output)
  if (code === 0) writeFileSync(STAMP, sources)
  return code
}

export function compile(output) {
  return runTool({ name: 'typescript', tool: 'tsc', args: [], output })
}

export async function bundleView(output) {
  if (!existsSync(join(projectFolder, 'web', 'index.html'))) return 0
  return runTool({ name: 'vite', args: ['build', '--logLevel', 'warn'], output })
}

/** A hash over path, size and time of change of every source: milliseconds, where reading them would take longer. */
function fingerprint() {
  const hash = createHash('sha256')
  for (const file of SOURCES.flatMap((source) => filesIn(join(projectFolder, source)))) {
    const { size, mtimeMs } = statSync(file, { throwIfNoEntry: false }) ?? {}
    hash.update(`${relative(projectFolder, file)}\0${size}\0${mtimeMs}\n`)
  }
  return hash.digest('hex')
}

function filesIn(path) {
  const found = statSync(path, { throwIfNoEntry: false })
  if (found === undefined) return []
  if (!found.isDirectory()) return [path]
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesIn(join(path, name)))
}
