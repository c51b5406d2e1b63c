/** Runs the R scripts beside the fixtures again, where R is present: a fixture nobody can make again proves little. */
import { execFile, execFileSync } from 'node:child_process'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { projectFolder } from '../../services/paths.ts'

const fixtures = join(projectFolder, 'tests', 'reference', 'fixtures')

/** Ends a test's name: why it is skipped, or nothing where R and `packages` are present. */
export function whyNoR(packages: readonly string[] = []): string {
  try {
    execFileSync('Rscript', ['-e', packages.map((name) => `library(${name})`).join(';') || '1'], {
      stdio: 'ignore',
    })
    return ''
  } catch {
    return ` (skipped: no Rscript here${packages.map((name) => ` with ${name}`).join('')})`
  }
}

export async function readFixture(name: string): Promise<unknown> {
  return JSON.parse(await readFile(join(fixtures, `${name}.json`), 'utf8'))
}

export async function runScript(name: string): Promise<unknown> {
  const { stdout } = await promisify(execFile)('Rscript', [join(fixtures, `${name}.R`)])
  return JSON.parse(stdout)
}

/** The largest relative difference of numbers at the same place of two like structures, absolute under 1. */
export function farthestApart(a: unknown, b: unknown): number {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) / Math.max(1, Math.abs(a))
  if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object')
    return Number.POSITIVE_INFINITY
  const [left, right] = [Object.entries(a), Object.entries(b)]
  if (left.length !== right.length) return Number.POSITIVE_INFINITY
  return left.reduce(
    (most, [key, value], i) =>
      Math.max(most, right[i]![0] === key ? farthestApart(value, right[i]![1]) : Number.POSITIVE_INFINITY),
    0,
  )
}
