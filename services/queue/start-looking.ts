/** Starts what looks at photos: an eye of this process and a list in memory, or a queue in Redis for workers anywhere. */
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import type { ServeConfig } from '../config/serve.ts'
import { type Metrics, timedEye } from '../metrics.ts'
import { modelsFolder } from '../paths.ts'
import type { Ledger } from '../store/open.ts'
import type { StillFiles } from '../store/still-files.ts'
import { findWaiting } from '../store/waiting.ts'
import { findQueueName } from '../store/workers.ts'
import type { BullmqWorker } from './bullmq-worker.ts'
import { type EyeProcess, startEyeProcess } from './eye-process.ts'
import { startInProcessQueue } from './in-process.ts'
import { stationHere, stillWork } from './process-still.ts'
import type { Queue } from './queue.ts'

/** Beside those the eye works on one is being written down: more would only wait, and hold memory. */
const BEING_RECORDED = 1
/**
 * While so many requests with photos wait for this machine, one photo is looked at at a time: a look can wait, a sender on a
 * flat battery can't. It is never none, so that looking goes on however long they come.
 */
const PRESSED_FROM = 8
const STOP_PATIENCE_MS = 3_000

/** What a worker on another machine is told when it joins, and what is counted of them here. */
export interface ForWorkers {
  /** As workers reach it. */
  readonly redisUrl: string
  readonly queueName: string
  /** The folder both may be given. */
  readonly stillFolder: string | null
  countGivenUp(): void
}

export interface Looking {
  readonly queue: Queue
  /** Null where only workers look. */
  readonly eye: EyeProcess | null
  /** Null where this process looks alone. */
  readonly workers: ForWorkers | null
  stop(): Promise<void>
}

export interface LookingOptions {
  readonly config: ServeConfig
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly log: (line: string) => void
  readonly metrics: Metrics
  /** Requests with photos that have come whole and are not answered yet. */
  readonly inWriting: () => number
  /** Another eye, for tests and benches. */
  readonly eyeEntry?: string | undefined
}

export async function startLooking(options: LookingOptions): Promise<Looking> {
  return options.config.redisUrl === undefined
    ? lookHere(options)
    : await lookWithWorkers(options, options.config.redisUrl)
}

function openEye({ config, log, metrics, eyeEntry }: LookingOptions): EyeProcess {
  const planFile = join(config.dataFolder, 'eye-plan.json')
  const eye = startEyeProcess({
    modelsFolder: config.modelsFolder ?? modelsFolder,
    log,
    planFile,
    ...(eyeEntry !== undefined && { entry: eyeEntry }),
  })
  return timedEye(eye, metrics)
}

function lookHere(options: LookingOptions): Looking {
  const { ledger, files, log, metrics, inWriting } = options
  const eye = openEye(options)
  const onRecorded = metrics.recorded
  const queue = startInProcessQueue(stillWork({ ledger, files, eye, log, onRecorded }), {
    inHandAtOnce: () => (inWriting() >= PRESSED_FROM ? 1 : eye.atOnce() + BEING_RECORDED),
  })
  return {
    queue,
    eye,
    workers: null,
    async stop() {
      // What is in hand may finish; an eye that hangs or is not up is not waited for, the ledger knows what waits.
      const patience = eye.state() === 'ready' ? STOP_PATIENCE_MS : 0
      await Promise.race([queue.stop(), wait(patience, undefined, { ref: false })])
      await eye.stop()
      await queue.stop()
    },
  }
}

async function lookWithWorkers(options: LookingOptions, redisUrl: string): Promise<Looking> {
  const { config, ledger, files, log } = options
  // Loaded where they are used: a station that looks alone needs neither.
  const { startBullmqQueue } = await import('./bullmq.ts')
  const { startBullmqWorker } = await import('./bullmq-worker.ts')
  const queueName = await findQueueName(ledger)
  let givenUp = 0
  const queue = startBullmqQueue(
    { log, findWaiting: (ask) => findWaiting(ledger, ask) },
    { redisUrl, queueName, givenUp: () => givenUp + (worker?.counts().failed ?? 0) },
  )
  const eye = config.runsEye === true ? openEye(options) : null
  const worker: BullmqWorker | null =
    eye === null
      ? null
      : startBullmqWorker({
          redisUrl,
          queueName,
          eye,
          station: stationHere({ ledger, files, onRecorded: options.metrics.recorded }),
          log,
        })
  return {
    queue,
    eye,
    workers: {
      redisUrl: config.workerRedisUrl ?? redisUrl,
      queueName,
      stillFolder: config.stillFolder ?? null,
      countGivenUp: () => {
        givenUp += 1
      },
    },
    async stop() {
      await worker?.stop()
      await queue.stop()
    },
  }
}
