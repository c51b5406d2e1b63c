/**
 * The eye as a process of its own, forked by the service: a native crash ends this process only.
 * Its arguments, if any, are the folder of the models and the file in which the measured plan is kept; its settings
 * come from the environment.
 */
import { modelsFolder } from '../services/paths.ts'
import { Refusal } from '../services/refusal.ts'
import { MEASURE_MS, openPlannedEyes } from './eye/open.ts'
import { readEyeSettings } from './eye/settings.ts'
import type { Eyes } from './eye/threads.ts'
import type { FromEye, ToEye } from './messages.ts'
import { readStill } from './read-still.ts'

/** Resolves when the message is out, so that the process may end after it. */
function say(word: FromEye): Promise<void> {
  return new Promise((done) => {
    if (process.connected) process.send?.(word, undefined, undefined, () => done())
    else done()
  })
}

async function open() {
  try {
    return await openPlannedEyes({
      modelsFolder: process.argv[2] ?? modelsFolder,
      planFile: process.argv[3],
      settings: readEyeSettings(process.env),
      measureMs: MEASURE_MS,
    })
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error)
    const remedy = error instanceof Refusal ? error.remedy : 'Install again (npm ci) and start again.'
    await say({ type: 'failed', detail, remedy })
    process.exit(1)
  }
}

async function answer(eye: Eyes, { id, still }: ToEye): Promise<void> {
  try {
    const looked = await eye.look(await readStill(still), { tiles: still.tiles })
    await say({ type: 'looked', id, looked })
  } catch (error) {
    await say({ type: 'error', id, message: error instanceof Error ? error.message : String(error) })
  }
}

// Ctrl-C goes to the whole group of processes; the parent ends the eye when it has finished with it.
process.on('SIGINT', () => {})
process.on('SIGTERM', () => process.exit(0))
process.on('disconnect', () => process.exit(0))
if (!process.connected) {
  process.stderr.write('The eye is started by the service (npm start, npm run demo), not by hand.\n')
  process.exit(2)
}

const { eyes, plan } = await open()
process.on('message', (word: ToEye) => void answer(eyes, word))
await say({ type: 'ready', models: eyes.models, plan })
