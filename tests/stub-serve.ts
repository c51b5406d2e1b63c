/** `hooftally serve` with the stub eye, as a process of its own: `node dist/tests/stub-serve.js --data DIR --port 0`. */
import { sayRefusal } from '../services/cli/say.ts'
import { runServe } from '../services/cli/serve.ts'
import { builtFile } from '../services/paths.ts'

try {
  process.exitCode = await runServe(process.argv.slice(2), { eyeEntry: builtFile('tests/stub-eye.js') })
} catch (fault) {
  process.exitCode = sayRefusal(fault)
}
