/** An eye for each core: the same `Eye`, with looks spread over threads. */
import { once } from 'node:events'
import { availableParallelism } from 'node:os'
import { Worker } from 'node:worker_threads'
import { builtFile } from '../../services/paths.ts'
import type { Looked } from '../../services/words.ts'
import type { Eye } from './look.ts'
import { readModels } from './manifest.ts'

export interface ToThread {
  readonly id: number
  readonly bytes: Uint8Array
}
export type FromThread =
  | { readonly type: 'ready' }
  | { readonly type: 'looked'; readonly id: number; readonly looked: Looked }
  | { readonly type: 'error'; readonly id: number; readonly message: string }

/** Two: while a thread's models run on one still, the next is decoded. */
export const STILLS_A_THREAD = 2
/** Each eye holds its own weights and working memory: more cores than this would cost more memory than they save time. */
const MAX_THREADS = 8

interface Job {
  readonly bytes: Uint8Array
  readonly resolve: (looked: Looked) => void
  readonly reject: (error: Error) => void
}

interface Seat {
  readonly thread: Worker
  readonly inHand: Map<number, Job>
}

export interface EyesOptions {
  readonly modelsFolder: string
  /** One for each core, at most 8, unless said. */
  readonly threads?: number
}

export interface Eyes extends Eye {
  /** How many stills it works on at once; more may be given, they wait. */
  readonly atOnce: number
}

/**
 * Checks the models once and starts the threads; always from the build, as Node 20 cannot run TypeScript.
 * A thread that breaks ends the process: whoever started it starts it anew.
 * @throws Refusal when a model is missing or changed
 */
export async function openEyes({ modelsFolder, threads }: EyesOptions): Promise<Eyes> {
  const models = await readModels(modelsFolder)
  const count = threads ?? Math.min(availableParallelism(), MAX_THREADS)
  const seats = Array.from({ length: count }, (): Seat => {
    const thread = new Worker(builtFile('worker/eye/thread.js'), { workerData: models })
    return { thread, inHand: new Map() }
  })
  await Promise.all(seats.map(({ thread }) => once(thread, 'message')))

  const waiting: Job[] = []
  let lastId = 0
  function seat(): void {
    const free = seats.toSorted((a, b) => a.inHand.size - b.inHand.size)[0]
    if (!free || free.inHand.size >= STILLS_A_THREAD) return
    const job = waiting.shift()
    if (!job) return
    const id = ++lastId
    free.inHand.set(id, job)
    free.thread.postMessage({ id, bytes: job.bytes } satisfies ToThread)
  }
  for (const { thread, inHand } of seats) {
    thread.on('message', (word: FromThread) => {
      if (word.type === 'ready') return
      const job = inHand.get(word.id)
      inHand.delete(word.id)
      if (word.type === 'looked') job?.resolve(word.looked)
      else job?.reject(new Error(word.message))
      seat()
    })
  }

  return {
    models: models.identity,
    thresholds: models.thresholds,
    atOnce: count * STILLS_A_THREAD,
    look: (bytes) =>
      new Promise((resolve, reject) => {
        waiting.push({ bytes, resolve, reject })
        seat()
      }),
    close: async () => {
      await Promise.all(seats.map(({ thread }) => thread.terminate()))
    },
  }
}
