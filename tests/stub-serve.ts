/**
 * `hooftally serve` with the stub eye, as a process of its own: `node dist/tests/stub-serve.js --data DIR --port 0`.
 * `STUB_SENDER_PATIENCE_MS`: how long a sender may bring hardly anything.
 */
import { sayRefusal } from '../services/cli/say.ts'
import { runServe } from '../services/cli/serve.ts'
import { builtFile } from '../services/paths.ts'

const patience = process.env.STUB_SENDER_PATIENCE_MS

try {
  process.exitCode = await runServe(process.argv.slice(2), {
    eyeEntry: builtFile('tests/stub-eye.js'),
    ...(patience !== undefined && { senderPatienceMs: Number(patience) }),
  })
} catch (fault) {
  process.exitCode = sayRefusal(fault)
}
