/** One eye in a thread of its own: what `openEyes` starts. */
import { parentPort, workerData } from 'node:worker_threads'
import { type Eye, eyeOf } from './look.ts'
import { openSessions } from './sessions.ts'
import type { FromThread, ThreadData, ToThread } from './threads.ts'
import type { TakeTurn } from './turns.ts'

const port = parentPort
if (!port) throw new Error('this file runs as a thread of the eye')
const say = (word: FromThread) => port.postMessage(word)
const wordsOf = (error: unknown) => (error instanceof Error ? error.message : String(error))

/** Turns begin when the process says so: all its threads share one memory. */
const begins = new Map<number, () => void>()
let lastTurn = 0
const takeTurn: TakeTurn = (pixels) =>
  new Promise((resolve) => {
    const turn = ++lastTurn
    begins.set(turn, () => resolve(() => say({ type: 'turn ends', turn })))
    say({ type: 'turn wanted', turn, pixels })
  })

async function open({ models, run }: ThreadData): Promise<Eye> {
  return eyeOf(models, await openSessions(models, run), takeTurn)
}

try {
  const eye = await open(workerData)
  port.on('message', (word: ToThread) => {
    if (word.type === 'turn begins') {
      begins.get(word.turn)?.()
      begins.delete(word.turn)
      return
    }
    const { id, bytes, options } = word
    eye.look(bytes, options).then(
      (looked) => say({ type: 'looked', id, looked }),
      (error: unknown) => say({ type: 'error', id, message: wordsOf(error) }),
    )
  })
  say({ type: 'ready' })
} catch (error) {
  say({ type: 'failed', message: wordsOf(error) })
}
