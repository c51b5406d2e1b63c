/** `verify`: every check there is, one after the other; the first that fails ends it. */
import { build } from './build.mjs'
import { ensureInstalled } from './install.mjs'
import { runTool } from './run.mjs'
import { takeTurn } from './turn.mjs'

/** Gives the exit code of the first step that failed, else that of the tests, whose closing line is the last. */
export async function verify(testArgs) {
  const endTurn = await takeTurn()
  try {
    await ensureInstalled()
    const code = await firstFailure([
      ['Types and build', () => build(1)],
      ['Lint and format', () => runTool({ name: '@biomejs/biome', tool: 'biome', args: BIOME, output: 1 })],
    ])
    if (code !== 0) return code
  } finally {
    endTurn()
  }
  return firstFailure([['Tests', () => runTool({ name: 'vitest', args: ['run', ...testArgs], output: 1 })]])
}

const BIOME = ['ci', '--error-on-warnings', '--colors=off', '.']

async function firstFailure(steps) {
  for (const [name, step] of steps) {
    process.stdout.write(`\n== ${name}\n`)
    const code = await step()
    if (code === 0) continue
    // After the tests nothing is said: their closing line is the last.
    if (name !== 'Tests') process.stdout.write(`\n${name}: failed (exit code ${code})\n`)
    return code
  }
  return 0
}
