/** `npm run bench -- [NAME...]`: runs the benches named, all of them unless said. */
import { benchDemo } from './demo.ts'
import { benchPipeline } from './pipeline.ts'

const benches: Readonly<Record<string, () => Promise<unknown>>> = {
  pipeline: benchPipeline,
  demo: benchDemo,
}

const asked = process.argv.slice(2)
const unknown = asked.filter((name) => !(name in benches))
if (unknown.length > 0) {
  process.stderr.write(
    `No bench is called ${unknown.join(', ')}; there are: ${Object.keys(benches).join(', ')}.\n`,
  )
  process.exit(1)
}
for (const [name, bench] of Object.entries(benches))
  if (asked.length === 0 || asked.includes(name)) await bench()
process.exit(0)
