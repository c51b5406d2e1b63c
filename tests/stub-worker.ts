/** `hooftally worker` with the stub eye, as a process of its own: `node dist/tests/stub-worker.js --api URL --key KEY`. */
import { sayRefusal } from '../services/cli/say.ts'
import { runWorker } from '../services/cli/worker.ts'
import { builtFile } from '../services/paths.ts'

/** Short, so that a killed worker's stills come back while a test waits. */
const LOCK_MS = Number(process.env.TEST_LOCK_MS ?? 3_000)
const JOIN_PATIENCE_MS = Number(process.env.TEST_JOIN_PATIENCE_MS ?? 30_000)

try {
  process.exitCode = await runWorker(process.argv.slice(2), {
    eyeEntry: builtFile('tests/stub-eye.js'),
    lockMs: LOCK_MS,
    joinPatienceMs: JOIN_PATIENCE_MS,
  })
} catch (fault) {
  process.exitCode = sayRefusal(fault)
}
