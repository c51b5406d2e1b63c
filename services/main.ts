/** The commands of the built service; services/start.mjs has installed and built what they need. */
import { sayRefusal } from './cli/say.ts'

/** Loaded when called: `look` needs no database, and a service no card reader. */
const COMMANDS: Readonly<Record<string, (args: readonly string[]) => Promise<number>>> = {
  demo: async (args) => (await import('./cli/demo.ts')).runDemo(args),
  serve: async (args) => (await import('./cli/serve.ts')).runServe(args),
  import: async (args) => (await import('./cli/import.ts')).runImport(args),
  points: async (args) => (await import('./cli/points.ts')).runPoints(args),
  look: async (paths) => {
    const { runLook } = await import('../worker/eye/look-at-files.ts')
    return await runLook([...paths], (line) => process.stdout.write(`${line}\n`))
  },
}

const [name = '', ...args] = process.argv.slice(2)
const command = COMMANDS[name]
try {
  process.exitCode = command === undefined ? 2 : await command(args)
} catch (fault) {
  process.exitCode = sayRefusal(fault)
}
