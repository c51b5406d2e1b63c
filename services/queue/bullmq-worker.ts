/** Takes jobs out of Redis, has the eye look at the stills, and tells the station what was seen. */
import { setTimeout as wait } from 'node:timers/promises'
import { Worker as BullWorker, type Job, WaitingError } from 'bullmq'
import type { StillSource } from '../../worker/messages.ts'
import { Refusal } from '../refusal.ts'
import type { Looked } from '../words.ts'
import type { EyeProcess } from './eye-process.ts'
import { gatherResults, HOLD_MS } from './gather-results.ts'
import { NotTheStillsFault, type WaitingStill } from './queue.ts'
import { connectRedis } from './redis.ts'
import type { DoneLook, StationOfWorker } from './station-of-worker.ts'
import { MAX_TRIES, PREFIX, stillOfJob } from './still-jobs.ts'
import { makeTurns } from './turns.ts'

export interface BullmqWorkerOptions {
  readonly redisUrl: string
  readonly queueName: string
  readonly eye: EyeProcess
  readonly station: StationOfWorker
  readonly log: (line: string) => void
  /** A job whose worker has not said for so long that it lives is given to another. */
  readonly lockMs?: number
}

export interface BullmqWorker {
  /** Since the start: stills looked at, and stills given up. */
  counts(): { readonly done: number; readonly failed: number }
  /** Resolves when the station wants nothing more of this worker. */
  readonly refused: Promise<Refusal>
  /** Finishes what is in hand or hands it back, and stops the eye; under ten seconds. */
  stop(): Promise<void>
}

const LOCK_MS = 20_000
/** The next being fetched. */
const NEXT_IN_HAND = 2
/** Looked at and not yet told of, at most. */
const MOST_HELD = 10
/** Of the time between two results, how much the last one weighs. */
const LAST_WEIGHS = 0.2
/** So many beside those the eye works on, and a result may wait for others: the eye has its next one meanwhile. */
const NEXT_WHILE_TELLING = 1
const FINISH_MS = 5_000
const HAND_BACK_MS = 2_000
const FIRST_WAIT_MS = 250
const LONGEST_WAIT_MS = 10_000
const RECONNECT_MS = 1_000
/** More often than that a worker has ended while it held this still: no chance any more, whatever ended it. */
const MAX_STALLS = 20
/** From so many on it is tried with nothing else in hand. */
const SUSPECT_STALLS = 2

/** The worker stops; the job goes back for another. */
class HandedBack extends Error {}

export function startBullmqWorker(options: BullmqWorkerOptions): BullmqWorker {
  const { eye, station, log } = options
  const lockMs = options.lockMs ?? LOCK_MS
  const turns = makeTurns()
  const { redis, end } = connectRedis(options.redisUrl, log)
  let done = 0
  let failed = 0
  let isAway = false
  const stopping = new AbortController()
  let refuse: (refusal: Refusal) => void = () => undefined
  const refused = new Promise<Refusal>((resolve) => {
    refuse = resolve
  })

  /** Being fetched or looked at. */
  let looking = 0
  const results = gatherResults({
    send: (looks) => patiently(() => station.record(looks)),
    mayHold: () => !stopping.signal.aborted && looking > eye.atOnce() + NEXT_WHILE_TELLING,
    isOfAll: (fault) => fault instanceof Refusal || fault instanceof HandedBack,
  })

  let lastResultAt = performance.now()
  let betweenResultsMs = HOLD_MS
  /**
   * Those the eye works on, the next, and those held to be told of together: as many as this eye gets through meanwhile.
   * A photo more in one hand is one less in another's, and an urgent one waits behind it.
   */
  const inHandAtOnce = () =>
    eye.atOnce() + NEXT_IN_HAND + Math.min(MOST_HELD, Math.round(HOLD_MS / betweenResultsMs))
  const worker = new BullWorker(options.queueName, run, {
    connection: redis,
    prefix: PREFIX,
    skipVersionCheck: true,
    concurrency: inHandAtOnce(),
    lockDuration: lockMs,
    stalledInterval: Math.ceil(lockMs / 2),
    // Given up by this code, which can tell the station, not by BullMQ.
    maxStalledCount: 2 * MAX_STALLS,
    runRetryDelay: RECONNECT_MS,
  })
  // A lost lock or a lost Redis: the job comes back, and its result is recorded once.
  worker.on('error', (fault) => {
    if (!isConnectionFault(fault)) log(`queue: ${fault.message}`)
  })

  async function run(job: Job, token?: string): Promise<void> {
    const still = stillOfJob(job.data)
    // Of another version, say; the ledger offers the still anew.
    if (still === null) return
    // The eye finds at its start how many it takes.
    worker.concurrency = inHandAtOnce()
    try {
      await look(still, job)
    } catch (fault) {
      if (fault instanceof Refusal) refuseAll(fault)
      else if (!(fault instanceof HandedBack) && !stopping.signal.aborted) throw fault
      await job.moveToWait(token)
      throw new WaitingError()
    } finally {
      results.reconsider()
    }
  }

  /** Takes nothing more; whoever started this worker stops it. */
  function refuseAll(refusal: Refusal): void {
    void worker.pause(true)
    refuse(refusal)
  }

  async function look(still: WaitingStill, job: Job): Promise<void> {
    const tries = job.attemptsMade + 1
    if (job.stalledCounter > MAX_STALLS) {
      return await giveUp(still, job.stalledCounter, 'each time the worker ended while reading it')
    }
    try {
      const seen = await takeAndLook(still, job)
      if (seen !== null && (await results.add(seen)) === 'recorded') done += 1
    } catch (fault) {
      if (fault instanceof Refusal || fault instanceof HandedBack || stopping.signal.aborted) throw fault
      const reason = fault instanceof Error ? fault.message : String(fault)
      if (tries < MAX_TRIES) {
        log(`photo ${still.stillId}: ${reason}; trying again`)
        throw fault
      }
      await giveUp(still, tries, reason)
    }
  }

  async function takeAndLook(still: WaitingStill, job: Job): Promise<DoneLook | null> {
    looking += 1
    try {
      // Offered long ago or in hand before, it may be done, removed or told otherwise by now: the station is asked.
      const isFirstGo = job.attemptsMade === 0 && job.stalledCounter === 0
      const source = await patiently(() => station.take(isFirstGo ? still : { ...still, look: undefined }))
      if (source === null) return null
      const suspect = job.attemptsMade > 0 || job.stalledCounter >= SUSPECT_STALLS
      const { looked, seconds } = await lookAt(source, suspect)
      const now = performance.now()
      betweenResultsMs += LAST_WEIGHS * (Math.min(now - lastResultAt, HOLD_MS) - betweenResultsMs)
      lastResultAt = now
      return { still, outcome: looked, lookSeconds: seconds }
    } finally {
      looking -= 1
    }
  }

  async function giveUp(still: WaitingStill, tries: number, reason: string): Promise<void> {
    await results.add({ still, outcome: { kind: 'gave up', tries, reason } })
    failed += 1
    log(`photo ${still.stillId}: given up after ${tries} tries: ${reason}`)
  }

  /** Looks until the eye answers, or until the fault is known to be the still's own. */
  async function lookAt(source: StillSource, suspect: boolean): Promise<{ looked: Looked; seconds: number }> {
    let alone = suspect
    for (let waits = 0; ; waits += 1) {
      try {
        const turn = alone ? turns.alone : turns.together
        return await turn(async () => {
          const began = performance.now()
          const looked = await eye.look(source)
          return { looked, seconds: (performance.now() - began) / 1000 }
        })
      } catch (fault) {
        if (!(fault instanceof NotTheStillsFault)) throw fault
        alone ||= fault.alone
        await pause(waits)
      }
    }
  }

  /** Asks the station for as long as it is away; such a wait is no try of the still's. */
  async function patiently<T>(ask: () => Promise<T>): Promise<T> {
    for (let waits = 0; ; waits += 1) {
      try {
        const answer = await ask()
        if (isAway) log('the station answers again')
        isAway = false
        return answer
      } catch (fault) {
        if (!(fault instanceof NotTheStillsFault)) throw fault
        if (!isAway) log(`${fault.message}; waiting`)
        isAway = true
        await pause(waits)
      }
    }
  }

  async function pause(waits: number): Promise<void> {
    const waitMs = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(waits, 10))
    if (!stopping.signal.aborted) {
      await wait(waitMs, undefined, { signal: stopping.signal }).catch(() => undefined)
    }
    if (stopping.signal.aborted) throw new HandedBack('the worker stops')
  }

  async function stop(): Promise<void> {
    stopping.abort()
    results.reconsider()
    const closed = worker.close().catch(() => undefined)
    // An eye that hangs or is not up is not waited for.
    await within(eye.state() === 'ready' ? FINISH_MS : 0, closed)
    await eye.stop()
    await within(HAND_BACK_MS, closed)
    end()
  }

  let stopped: Promise<void> | null = null
  return {
    counts: () => ({ done, failed }),
    refused,
    stop() {
      stopped ??= stop()
      return stopped
    },
  }
}

async function within(ms: number, work: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined
  const over = new Promise((resolve) => {
    timer = setTimeout(resolve, ms)
  })
  await Promise.race([work, over])
  clearTimeout(timer)
}

function isConnectionFault(fault: Error): boolean {
  return 'code' in fault || /connection is closed|stream isn't writeable/i.test(fault.message)
}
