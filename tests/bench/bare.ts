/** The bound that speed is measured against: the bare models on the same stills, in the same run. */
import { once } from 'node:events'
import { Worker } from 'node:worker_threads'
import { builtFile } from '../../services/paths.ts'
import type { EyePlan } from '../../worker/eye/plan.ts'
import type { BareThreadData } from './bare-thread.ts'

/** Bare sessions in as many threads as the pipeline has, each with as many stills in hand. */
export async function openBare(workerData: BareThreadData, { eyeThreads, stillsInFlight }: EyePlan) {
  const file = builtFile('tests/bench/bare-thread.js')
  const workers = Array.from({ length: eyeThreads }, () => new Worker(file, { workerData }))
  await Promise.all(workers.map((worker) => once(worker, 'message')))
  const finished = new Map<number, () => void>()
  for (const worker of workers) worker.on('message', (still: number) => finished.get(still)?.())
  const free = Array.from({ length: Math.ceil(stillsInFlight / eyeThreads) }, () => workers).flat()
  return {
    run: async (still: number) => {
      const worker = free.shift()
      if (!worker) throw new Error('more stills in flight than the threads take')
      await new Promise<void>((done) => {
        finished.set(still, done)
        worker.postMessage(still)
      })
      free.push(worker)
    },
    close: () => Promise.all(workers.map((worker) => worker.terminate())),
  }
}
