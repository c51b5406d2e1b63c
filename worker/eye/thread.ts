/** One eye in a thread of its own: what `openEyes` starts, once for each core. */
import { parentPort, workerData } from 'node:worker_threads'
import { eyeOf, openSessions } from './look.ts'
import type { Models } from './manifest.ts'
import type { FromThread, ToThread } from './threads.ts'

const port = parentPort
if (!port) throw new Error('this file runs as a thread of the eye')
const models: Models = workerData
const eye = eyeOf(models, await openSessions(models))
const say = (word: FromThread) => port.postMessage(word)

port.on('message', ({ id, bytes }: ToThread) => {
  eye.look(bytes).then(
    (looked) => say({ type: 'looked', id, looked }),
    (error: unknown) =>
      say({ type: 'error', id, message: error instanceof Error ? error.message : String(error) }),
  )
})
say({ type: 'ready' })
