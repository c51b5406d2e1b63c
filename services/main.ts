/** The commands of the built service; services/start.mjs has installed and built what they need. */
import { sayRefusal } from './cli/say.ts'

/** Loaded when called: `look` needs no database, and a service no card reader. */
const COMMANDS: Readonly<Record<string, (args: readonly string[]) => Promise<number>>> = {
  demo: async (args) => (await import('./cli/demo.ts')).runDemo(args),
  serve: async (args) => (await import('./cli/serve.ts')).runServe(args),
  import: async (args) => (await import('./cli/import.ts')).runImport(args),
  worker: async (args) => (await import('./cli/worker.ts')).runWorker(args),
  retention: async (args) => (await import('./cli/retention.ts')).runRetentionCommand(args),
  points: async (args) => (await import('./cli/points.ts')).runPoints(args),
  report: async (args) => (await import('./cli/report.ts')).runReport(args),
  backup: async (args) => (await import('./cli/backup.ts')).runBackup(args),
  restore: async (args) => (await import('./cli/restore.ts')).runRestore(args),
  'training-set': async (args) => (await import('./cli/training-set.ts')).runTrainingSet(args),
  size: async (args) => (await import('./cli/size.ts')).runSize(args),
  look: async (paths) => {
    if (paths.includes('--help')) return sayHelp()
    const { runLook } = await import('../worker/eye/look-at-files.ts')
    return await runLook([...paths], (line) => process.stdout.write(`${line}\n`))
  },
}

function sayHelp(): number {
  process.stdout.write(`hooftally look FILE-OR-FOLDER...: what the models see in photos (npm run look -- FILE-OR-FOLDER...)

Prints one JSON object a line: file, width, height, found (species, score, box in pixels; best first), unsure, tally; or
file and error for what could not be read. Folders are walked through. Ends with 1 only when nothing could be read.
HOOFTALLY_MODELS names a folder of other models than the project's.
`)
  return 0
}

const [name = '', ...args] = process.argv.slice(2)
const command = COMMANDS[name]
try {
  process.exitCode = command === undefined ? 2 : await command(args)
} catch (fault) {
  process.exitCode = sayRefusal(fault)
}
