/** `npm run bench -- [NAME...] [OPTIONS]`: runs the benches named; unless said all but growth, which fills gigabytes. */
import { sayRefusal } from '../../services/cli/say.ts'
import { benchBatches } from './batches.ts'
import { benchChecks } from './checks.ts'
import { benchDemo } from './demo.ts'
import { benchGrowth } from './growth.ts'
import { benchIntake } from './intake.ts'
import { benchNamer } from './namer.ts'
import { benchPipeline } from './pipeline.ts'
import { benchQueue } from './queue.ts'
import { benchWorkers } from './workers.ts'

const benches: Readonly<Record<string, (options: readonly string[]) => Promise<unknown>>> = {
  pipeline: benchPipeline,
  demo: benchDemo,
  batches: benchBatches,
  intake: benchIntake,
  queue: benchQueue,
  checks: benchChecks,
  workers: benchWorkers,
  growth: benchGrowth,
  namer: benchNamer,
}
const UNLESS_SAID = ['pipeline', 'demo']
const WITH_OPTIONS = ['growth', 'workers']

const args = process.argv.slice(2)
const firstOption = args.findIndex((arg) => arg.startsWith('--'))
const named = firstOption < 0 ? args : args.slice(0, firstOption)
const options = firstOption < 0 ? [] : args.slice(firstOption)
const names = named.length === 0 ? UNLESS_SAID : named

const unknown = names.filter((name) => !Object.hasOwn(benches, name))
if (unknown.length > 0) {
  fail(`No bench is called ${unknown.join(', ')}; there are: ${Object.keys(benches).join(', ')}.`)
}
if (options.length > 0 && !(names.length === 1 && WITH_OPTIONS.includes(names[0]!))) {
  fail(`Options are for one bench alone that has some: ${WITH_OPTIONS.join(', ')}.`)
}
for (const name of names) {
  try {
    await benches[name]!(options)
  } catch (fault) {
    process.exit(sayRefusal(fault))
  }
}
process.exit(0)

function fail(line: string): never {
  process.stderr.write(`${line}\n`)
  process.exit(1)
}
