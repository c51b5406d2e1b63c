/** Several eyes: the same `Eye`, with looks spread over threads. */
import { once } from 'node:events'
import { setFlagsFromString } from 'node:v8'
import { Worker } from 'node:worker_threads'
import { builtFile } from '../../services/paths.ts'
import { MAX_PICTURE_MEGAPIXELS } from '../../services/picture-formats.ts'
import type { Looked } from '../../services/words.ts'
import type { Eye, LookOptions } from './look.ts'
import type { Models } from './manifest.ts'
import type { EyePlan } from './plan.ts'
import { loadingFailed } from './providers.ts'
import type { RunOptions } from './sessions.ts'
import { openTurns } from './turns.ts'

export interface ThreadData {
  readonly models: Models
  readonly run: RunOptions
}
export type ToThread =
  | { readonly type: 'look'; readonly id: number; readonly bytes: Uint8Array; readonly options: LookOptions }
  | { readonly type: 'turn begins'; readonly turn: number }
export type FromThread =
  | { readonly type: 'ready' }
  | { readonly type: 'failed'; readonly message: string }
  | { readonly type: 'looked'; readonly id: number; readonly looked: Looked }
  | { readonly type: 'error'; readonly id: number; readonly message: string }
  | { readonly type: 'turn wanted'; readonly turn: number; readonly pixels: number }
  | { readonly type: 'turn ends'; readonly turn: number }

/**
 * A thread's own heap is ten megabytes, and V8 by itself collects whenever a few decoded stills have come on top of it: a
 * twentieth of all the work (`npm run bench -- pipeline`). It may grow by so many per cent over what is in use.
 */
setFlagsFromString('--heap-growing-percent=500')

/** Large stills in hand at once, all eyes together: one of the largest (300 MB), and with more than 2 eyes as much more. */
const LARGE_PX_AN_EYE = 50e6

interface Job {
  readonly bytes: Uint8Array
  readonly options: LookOptions
  readonly resolve: (looked: Looked) => void
  readonly reject: (error: Error) => void
}

interface Seat {
  readonly thread: Worker
  readonly inHand: Map<number, Job>
}

export interface EyesOptions {
  readonly models: Models
  readonly plan: EyePlan
  /** Execution providers of ONNX Runtime. */
  readonly providers: readonly string[]
}

export interface Eyes extends Eye {
  /** How many stills it works on at once; more may be given, they wait. */
  atOnce(): number
  /** Sets how many it works on at once. */
  workAtOnce(stills: number): void
}

/**
 * Starts the threads of a plan; always from the build, as Node 20 cannot run TypeScript.
 * A thread that breaks ends the process: whoever started it starts it anew.
 * @throws Refusal when the models cannot be loaded
 */
export async function openEyes({ models, plan, providers }: EyesOptions): Promise<Eyes> {
  const workerData: ThreadData = { models, run: { onnxThreads: plan.onnxThreads, providers } }
  const seats = Array.from({ length: plan.eyeThreads }, (): Seat => {
    const thread = new Worker(builtFile('worker/eye/thread.js'), { workerData })
    return { thread, inHand: new Map() }
  })
  const close = async () => {
    await Promise.all(seats.map(({ thread }) => thread.terminate()))
  }
  const first = await Promise.all(seats.map(({ thread }) => once(thread, 'message')))
  for (const [word] of first as [FromThread][]) {
    if (word.type !== 'failed') continue
    await close()
    throw loadingFailed(providers, word.message)
  }

  let atOnce = plan.stillsInFlight
  let inHandNow = 0
  const waiting: Job[] = []
  let lastId = 0
  function seat(): void {
    if (inHandNow >= atOnce) return
    const free = seats.toSorted((a, b) => a.inHand.size - b.inHand.size)[0]
    const job = free && waiting.shift()
    if (!job) return
    const id = ++lastId
    inHandNow++
    free.inHand.set(id, job)
    tell(free.thread, { type: 'look', id, bytes: job.bytes, options: job.options })
  }

  const takeTurn = openTurns(Math.max(MAX_PICTURE_MEGAPIXELS * 1e6, plan.eyeThreads * LARGE_PX_AN_EYE))
  for (const { thread, inHand } of seats) {
    const endTurns = new Map<number, () => void>()
    thread.on('message', (word: FromThread) => {
      if (word.type === 'turn wanted') {
        const { turn } = word
        void takeTurn(word.pixels).then((end) => {
          endTurns.set(turn, end)
          tell(thread, { type: 'turn begins', turn })
        })
      } else if (word.type === 'turn ends') {
        endTurns.get(word.turn)?.()
        endTurns.delete(word.turn)
      } else if (word.type === 'looked' || word.type === 'error') {
        const job = inHand.get(word.id)
        inHand.delete(word.id)
        inHandNow--
        if (word.type === 'looked') job?.resolve(word.looked)
        else job?.reject(new Error(word.message))
        seat()
      }
    })
  }

  return {
    models: models.identity,
    thresholds: models.thresholds,
    atOnce: () => atOnce,
    workAtOnce: (stills) => {
      atOnce = stills
    },
    look: (bytes, options = {}) =>
      new Promise((resolve, reject) => {
        waiting.push({ bytes, options, resolve, reject })
        seat()
      }),
    close,
  }
}

function tell(thread: Worker, word: ToThread): void {
  thread.postMessage(word)
}
