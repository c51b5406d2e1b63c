/**
 * An eye for tests and benches, started in place of worker/main.ts: it answers at once, and always the same for the same
 * bytes. It reads no models but their manifest, so that the station takes its word.
 *
 * Bytes that begin with one of these words are treated so: `UNREADABLE` cannot be read; `POISON` kills this process;
 * `FAULT` is a fault that is not the file's; `SLOW` takes two seconds, `HANGS` does not answer.
 */
import { createHash } from 'node:crypto'
import { setTimeout as wait } from 'node:timers/promises'
import { modelsFolder } from '../services/paths.ts'
import type { Looked } from '../services/words.ts'
import { readModels } from '../worker/eye/manifest.ts'
import type { FromEye, ToEye } from '../worker/messages.ts'
import { readStill } from '../worker/read-still.ts'
import { stubLook } from './stub-look.ts'

const SLOW_MS = 2_000

const { identity } = await readModels(process.argv[2] ?? modelsFolder)
/** The one who started it may be gone: there is nobody to tell then. */
const say = (word: FromEye) =>
  process.connected && process.send?.(word, undefined, undefined, () => undefined)

process.on('SIGINT', () => {})
process.on('SIGTERM', () => process.exit(0))
process.on('disconnect', () => process.exit(0))
process.on('message', (word: ToEye) => void answer(word))
say({
  type: 'ready',
  models: identity,
  plan: { eyeThreads: 1, onnxThreads: 1, stillsInFlight: 4, providers: ['cpu'], from: 'set', tried: [] },
})

async function answer({ id, still }: ToEye): Promise<void> {
  try {
    say({ type: 'looked', id, looked: await look(Buffer.from(await readStill(still))) })
  } catch (fault) {
    say({ type: 'error', id, message: fault instanceof Error ? fault.message : String(fault) })
  }
}

/** The word is found anywhere in the first bytes: a picture's own come before it. */
async function look(bytes: Buffer): Promise<Looked> {
  const head = bytes.subarray(0, 4_096).toString('latin1')
  if (head.includes('POISON')) process.kill(process.pid, 'SIGKILL')
  if (head.includes('FAULT')) throw new Error('a fault of this still')
  if (head.includes('UNREADABLE')) return { kind: 'unreadable', reason: 'the file is broken' }
  if (head.includes('HANGS')) return await new Promise<never>(() => undefined)
  if (head.includes('SLOW')) await wait(SLOW_MS)
  return stubLook(createHash('sha256').update(bytes).digest(), identity)
}
