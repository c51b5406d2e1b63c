/** The embedded driver: a bounded list in memory, a set number of stills in hand, retry with backoff. */
import { NotTheStillsFault, type Queue, type QueueWork, URGENCIES, type WaitingStill } from './queue.ts'

export interface InProcessOptions {
  /** A number, or what is asked anew for each still: what an eye takes is known when it is up. */
  readonly inHandAtOnce: number | (() => number)
  /** Waiting ids held in memory; more wait in the ledger alone. */
  readonly maxWaiting?: number
  readonly maxTries?: number
  readonly firstRetryMs?: number
  readonly refillEveryMs?: number
}

const MAX_WAITING = 500
const MAX_TRIES = 4
const FIRST_RETRY_MS = 500
const LONGEST_RETRY_MS = 30_000
const REFILL_EVERY_MS = 60_000

interface Job {
  still: WaitingStill
  tries: number
  /** Faults that were not the still's own: they lengthen the wait, they do not count as tries. */
  delays: number
  alone: boolean
}

export function startInProcessQueue(work: QueueWork, options: InProcessOptions): Queue {
  const maxWaiting = options.maxWaiting ?? MAX_WAITING
  const maxTries = options.maxTries ?? MAX_TRIES
  const firstRetryMs = options.firstRetryMs ?? FIRST_RETRY_MS
  const waiting: Job[] = []
  const inHand = new Map<number, Job>()
  /** Jobs between two tries. */
  const resting = new Map<number, { job: Job; timer: NodeJS.Timeout }>()
  let givenUp = 0
  let stopping = false
  let overflowed = false
  let refilling: Promise<void> | null = null
  /** What the ledger is being asked was asked before it changed. */
  let outdated = false
  let onIdle: (() => void) | null = null

  const idOf = (job: Job) => job.still.stillId
  const isKnown = (id: number) => inHand.has(id) || resting.has(id) || waiting.some((job) => idOf(job) === id)

  function offer(still: WaitingStill): void {
    if (stopping || isKnown(still.stillId)) return
    line({ still, tries: 0, delays: 0, alone: false })
    // The least urgent is forgotten; the ledger brings it back.
    if (waiting.length > maxWaiting) {
      waiting.pop()
      overflowed = true
    }
    dispatch()
  }

  /** Behind everything at least as urgent. */
  function line(job: Job): void {
    const rank = rankOf(job)
    const behind = waiting.findLastIndex((other) => rankOf(other) <= rank)
    waiting.splice(behind + 1, 0, job)
  }

  function inHandAtOnce(): number {
    const { inHandAtOnce: limit } = options
    return typeof limit === 'number' ? limit : limit()
  }

  function dispatch(): void {
    while (!stopping && inHand.size < inHandAtOnce() && waiting.length > 0) {
      const next = waiting[0]!
      const holdsLonely = [...inHand.values()].some((job) => job.alone)
      if (holdsLonely || (next.alone && inHand.size > 0)) return
      waiting.shift()
      inHand.set(idOf(next), next)
      void run(next)
    }
    if (overflowed && waiting.length <= maxWaiting / 2) refill()
  }

  async function run(job: Job): Promise<void> {
    try {
      await work.process(job.still)
      inHand.delete(idOf(job))
    } catch (fault) {
      await afterFault(job, fault)
    }
    if (inHand.size === 0) onIdle?.()
    dispatch()
  }

  async function afterFault(job: Job, fault: unknown): Promise<void> {
    const reason = fault instanceof Error ? fault.message : String(fault)
    if (fault instanceof NotTheStillsFault) {
      job.delays += 1
      job.alone = job.alone || fault.alone
    } else {
      job.tries += 1
    }
    if (job.tries < maxTries) {
      work.log(`photo ${idOf(job)}: ${reason}; trying again`)
      return rest(job)
    }
    try {
      await work.giveUp(job.still, `could not be read in ${job.tries} tries: ${reason}`)
      givenUp += 1
      work.log(`photo ${idOf(job)}: given up after ${job.tries} tries: ${reason}`)
      inHand.delete(idOf(job))
    } catch (writeFault) {
      work.log(`photo ${idOf(job)}: giving up could not be written down: ${String(writeFault)}`)
      rest(job)
    }
  }

  function rest(job: Job): void {
    inHand.delete(idOf(job))
    if (stopping) return
    // By then it may be done, removed or told otherwise: the ledger is asked.
    job.still = { ...job.still, look: undefined }
    const waitMs = Math.min(LONGEST_RETRY_MS, firstRetryMs * 2 ** Math.min(10, job.tries + job.delays - 1))
    const timer = setTimeout(() => {
      resting.delete(idOf(job))
      // A suspect goes first: others must not wait behind it for long.
      if (job.alone) waiting.unshift(job)
      else line(job)
      dispatch()
    }, waitMs)
    resting.set(idOf(job), { job, timer })
  }

  function refill(): void {
    if (stopping || refilling !== null) return
    overflowed = false
    const except = [...inHand.keys(), ...resting.keys(), ...waiting.map(idOf)]
    const limit = maxWaiting - waiting.length
    if (limit <= 0) {
      overflowed = true
      return
    }
    refilling = work
      .findWaiting({ limit, except })
      .then((stills) => {
        refilling = null
        if (outdated) return askAnew()
        for (const still of stills) offer(still)
        // A full answer says that the ledger may hold more.
        if (stills.length >= limit) overflowed = true
      })
      .catch((fault: unknown) => {
        refilling = null
        work.log(`the ledger could not be asked what waits: ${String(fault)}`)
      })
  }

  function askAnew(): void {
    outdated = refilling !== null
    // Those that were tried keep their tries; the ledger is asked before they are tried again.
    const tried = waiting.filter((job) => job.tries + job.delays > 0)
    waiting.splice(0, waiting.length, ...tried)
    refill()
  }

  async function stop(): Promise<void> {
    stopping = true
    clearInterval(everyRound)
    for (const { timer } of resting.values()) clearTimeout(timer)
    resting.clear()
    waiting.length = 0
    await refilling
    if (inHand.size > 0)
      await new Promise<void>((resolve) => {
        onIdle = resolve
      })
  }

  let stopped: Promise<void> | null = null
  const everyRound = setInterval(refill, options.refillEveryMs ?? REFILL_EVERY_MS)
  refill()

  return {
    offer,
    refill,
    askAnew,
    isUp: () => true,
    depth: () => ({ waiting: waiting.length + resting.size, inHand: inHand.size, givenUp }),
    stop() {
      stopped ??= stop()
      return stopped
    },
  }
}

function rankOf(job: Job): number {
  return URGENCIES.indexOf(job.still.urgency)
}
