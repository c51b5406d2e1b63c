/** A worker's life: it joins the station, looks at photos until it is asked to stop, and says every so often that it lives. */

import { type BullmqWorker, startBullmqWorker } from '../../services/queue/bullmq-worker.ts'
import { startEyeProcess } from '../../services/queue/eye-process.ts'
import { NotTheStillsFault } from '../../services/queue/queue.ts'
import { addressWithoutSecrets } from '../../services/queue/redis.ts'
import { Refusal } from '../../services/refusal.ts'
import { version } from '../../services/version.ts'
import type { ModelIdentity } from '../../services/words.ts'
import { photosAnHour } from './rate.ts'
import { type RemoteStation, remoteStation } from './station.ts'

export interface RemoteWorkerConfig {
  readonly api: string
  readonly key: string
  readonly name: string
  readonly models: ModelIdentity
  readonly modelsFolder: string
  /** Where the eye keeps how it shares this machine; one that can't be written to costs a measurement at each start. */
  readonly planFile: string
  /** The station's folder of photos, where this machine has it too. */
  readonly stillFolder: string | null
}

export interface WorkerSurroundings {
  readonly log: (line: string) => void
  /** Resolves when the worker shall stop. */
  readonly asked: Promise<null>
  /** Another eye than the models', for tests and benches: a built file. */
  readonly eyeEntry?: string
  readonly lockMs?: number
  /** How long a station that does not answer is waited for at the start. */
  readonly joinPatienceMs?: number
}

const JOIN_PATIENCE_MS = 120_000
const FIRST_WAIT_MS = 500
const LONGEST_WAIT_MS = 10_000
const WORD_EVERY_MS = 15_000
/** The last word of a worker that stops is not waited for longer than this. */
const LAST_WORD_MS = 1_500

/** Works until it is asked to stop; null then, else why it can't go on. */
export async function runRemoteWorker(
  config: RemoteWorkerConfig,
  surroundings: WorkerSurroundings,
): Promise<Refusal | null> {
  const { log, asked } = surroundings
  const wantsFolder = config.stillFolder !== null
  const joining = remoteStation({ ...config, version })
  const joined = await joinStation(joining, { ...surroundings, api: config.api })
  if (joined === null || joined instanceof Refusal) return joined
  const sharesFolder = wantsFolder && joined.stills === 'folder'
  if (wantsFolder && !sharesFolder) {
    log('STILLS_FOLDER is left aside: the station was not given one. Photos come from the station.')
  }
  const station = sharesFolder ? joining : remoteStation({ ...config, stillFolder: null, version })
  log(
    `Joined ${config.api} as ${config.name}; the queue is at ${addressWithoutSecrets(joined.queue.url)}. Ctrl-C stops it.`,
  )
  const { modelsFolder, planFile } = config
  const { eyeEntry, lockMs } = surroundings
  const eye = startEyeProcess({
    modelsFolder,
    log,
    planFile,
    ...(eyeEntry !== undefined && { entry: eyeEntry }),
  })
  const worker = startBullmqWorker({
    redisUrl: joined.queue.url,
    queueName: joined.queue.name,
    eye,
    station,
    log,
    ...(lockMs !== undefined && { lockMs }),
  })
  const words = speakEverySoOften(station, worker)
  const reason = await Promise.race([asked, worker.refused, words.refused])
  log(reason === null ? 'Stopping.' : 'Stopping: the station refuses this worker.')
  await worker.stop()
  await words.stop()
  return reason
}

type Joined = Awaited<ReturnType<RemoteStation['join']>>

async function joinStation(
  station: RemoteStation,
  { api, log, asked, joinPatienceMs = JOIN_PATIENCE_MS }: WorkerSurroundings & { readonly api: string },
): Promise<Joined | Refusal | null> {
  const until = Date.now() + joinPatienceMs
  for (let waits = 0; ; waits += 1) {
    try {
      return await station.join()
    } catch (fault) {
      if (fault instanceof Refusal) return fault
      if (!(fault instanceof NotTheStillsFault)) return notAStation(api, fault)
      if (Date.now() >= until) return noAnswer(api, { fault, joinPatienceMs })
      if (waits === 0) log(`Waiting for the station at ${api}: ${fault.message}`)
      const waitMs = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(waits, 10))
      const stop = await Promise.race([asked, new Promise<true>((go) => setTimeout(() => go(true), waitMs))])
      if (stop === null) return null
    }
  }
}

function noAnswer(
  api: string,
  { fault, joinPatienceMs }: { readonly fault: Error; readonly joinPatienceMs: number },
): Refusal {
  return new Refusal({
    kind: 'unavailable',
    detail: `The station at ${api} did not answer for ${Math.round(joinPatienceMs / 1000)} s: ${fault.message}.`,
    field: '--api',
    remedy:
      'Is the address right, does the service run there, and does it listen to other machines (--host)? Then start the worker again.',
  })
}

function notAStation(api: string, fault: unknown): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `What answers at ${api} is no station that this worker understands: ${fault instanceof Error ? fault.message : String(fault)}`,
    field: '--api',
    remedy:
      'Give the address that the service printed, and run the same version of Hooftally on both machines.',
  })
}

/** Tells the station what was done since the last word that it heard. */
function speakEverySoOften(station: RemoteStation, worker: BullmqWorker) {
  const rate = photosAnHour()
  rate.at(performance.now(), 0)
  let told = { done: 0, failed: 0 }
  let refuse: (refusal: Refusal) => void = () => undefined
  const refused = new Promise<Refusal>((resolve) => {
    refuse = resolve
  })

  async function speak(): Promise<void> {
    const { done, failed } = worker.counts()
    const word = { done: done - told.done, failed: failed - told.failed }
    try {
      await station.word({ ...word, photosAnHour: rate.at(performance.now(), done) })
      told = { done, failed }
    } catch (fault) {
      // A word that was not heard is said with the next one.
      if (fault instanceof Refusal) refuse(fault)
    }
  }
  const timer = setInterval(() => void speak(), WORD_EVERY_MS)
  return {
    refused,
    async stop() {
      clearInterval(timer)
      await Promise.race([speak(), new Promise((resolve) => setTimeout(resolve, LAST_WORD_MS))])
    },
  }
}
