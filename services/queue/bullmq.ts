/**
 * The scaled driver: jobs in Redis for workers on any machine. Redis holds a bounded part of what waits and may be lost
 * at any time; the ledger is asked again when it comes back, when the queue runs low or empty, and every minute.
 */
import { Queue as BullQueue } from 'bullmq'
import type { Queue, QueueWork, WaitingStill } from './queue.ts'
import { connectRedis } from './redis.ts'
import { jobOf, PREFIX } from './still-jobs.ts'

export interface BullmqOptions {
  readonly redisUrl: string
  /** The station's own: several stations may share one Redis. */
  readonly queueName: string
  /** Stills that workers gave up since the start. */
  readonly givenUp: () => number
  /** Jobs held in Redis; more wait in the ledger alone. */
  readonly maxQueued?: number
  readonly refillEveryMs?: number
}

const MAX_QUEUED = 2_000
/** Fresh stills may go over the bound, so that a full backlog of old cards does not hold them up. */
const FRESH_OVER = 4
const ADDED_AT_ONCE = 250
const REFILL_EVERY_MS = 60_000
const COUNT_EVERY_MS = 1_000

export function startBullmqQueue(
  work: Pick<QueueWork, 'findWaiting' | 'log'>,
  options: BullmqOptions,
): Queue {
  const maxQueued = options.maxQueued ?? MAX_QUEUED
  const { redis, end } = connectRedis(options.redisUrl, work.log, {
    // What can't be said at once is left to the ledger: nothing piles up here while Redis is away.
    enableOfflineQueue: false,
  })
  // Asking Redis for its version could fail while it restarts, and BullMQ would never ask again.
  const bull = new BullQueue(options.queueName, {
    connection: redis,
    prefix: PREFIX,
    skipVersionCheck: true,
    skipMetasUpdate: true,
  })
  // connectRedis tells of a lost connection.
  bull.on('error', () => undefined)

  /** As last counted, and what was offered since. */
  let queued = { waiting: 0, inHand: 0 }
  const offered = new Map<number, WaitingStill>()
  /** The ledger may hold more than Redis. */
  let more = true
  /** What is in Redis may not be what the ledger says: filled by a service that ended since, or told otherwise. */
  let anew = true
  let adding: Promise<void> | null = null
  let refilling: Promise<void> | null = null
  let stopping = false
  /** Said once, not every second. */
  let ledgerAway = false

  const isUp = () => redis.status === 'ready'

  function offer(still: WaitingStill): void {
    if (stopping) return
    const bound = still.urgency === 'today' ? maxQueued * FRESH_OVER : maxQueued
    if (!isUp() || queued.waiting + offered.size >= bound) {
      more = true
      return
    }
    offered.set(still.stillId, still)
    // On the next turn, so that stills which arrive together are said together.
    adding ??= new Promise<void>((resolve) => setImmediate(resolve)).then(addOffered)
  }

  async function addOffered(): Promise<void> {
    while (offered.size > 0) {
      const some = [...offered.values()].slice(0, ADDED_AT_ONCE)
      for (const { stillId } of some) offered.delete(stillId)
      await add(some)
    }
    adding = null
  }

  async function add(stills: readonly WaitingStill[]): Promise<void> {
    try {
      await bull.addBulk(stills.map(jobOf))
      queued = { ...queued, waiting: queued.waiting + stills.length }
    } catch {
      more = true
    }
  }

  function refill(): void {
    if (stopping || refilling !== null || !isUp()) {
      more = true
      return
    }
    more = false
    const forgets = anew
    anew = false
    refilling = (forgets ? forgetWaiting() : Promise.resolve())
      .then(() => work.findWaiting({ limit: maxQueued, except: [] }))
      .then(async (stills) => {
        ledgerAway = false
        for (let from = 0; from < stills.length; from += ADDED_AT_ONCE) {
          await add(stills.slice(from, from + ADDED_AT_ONCE))
        }
        // A full answer says that the ledger may hold more.
        if (stills.length >= maxQueued) more = true
        await count()
      })
      .catch((fault: unknown) => {
        more = true
        anew ||= forgets
        if (!ledgerAway) work.log(`the ledger could not be asked what waits: ${String(fault)}`)
        ledgerAway = true
      })
      .finally(() => {
        refilling = null
      })
  }

  /** What workers have in hand stays, and so do those that failed once: the station is asked before they are looked at again. */
  async function forgetWaiting(): Promise<void> {
    offered.clear()
    await adding
    await bull.drain()
  }

  function askAnew(): void {
    anew = true
    refill()
  }

  async function count(): Promise<void> {
    if (!isUp()) return
    const counts = await bull.getJobCounts('waiting', 'prioritized', 'delayed', 'active').catch(() => null)
    if (counts === null) return
    const { waiting = 0, prioritized = 0, delayed = 0, active = 0 } = counts
    const before = queued
    queued = { waiting: waiting + prioritized + delayed, inHand: active }
    const ranEmpty = queued.waiting + active === 0 && before.waiting + before.inHand > 0
    // Run empty, or emptied: Redis can be flushed, or start anew without its memory.
    if (ranEmpty || anew || (more && queued.waiting <= maxQueued / 2)) refill()
  }

  redis.on('ready', askAnew)
  const everyCount = setInterval(() => void count(), COUNT_EVERY_MS)
  const everyRound = setInterval(refill, options.refillEveryMs ?? REFILL_EVERY_MS)

  let stopped: Promise<void> | null = null
  async function stop(): Promise<void> {
    stopping = true
    clearInterval(everyCount)
    clearInterval(everyRound)
    redis.off('ready', askAnew)
    offered.clear()
    if (isUp()) await Promise.allSettled([adding, refilling])
    end()
    await bull.close().catch(() => undefined)
  }

  return {
    offer,
    refill,
    askAnew,
    isUp,
    depth: () => ({
      waiting: queued.waiting + offered.size,
      inHand: queued.inHand,
      givenUp: options.givenUp(),
    }),
    stop() {
      stopped ??= stop()
      return stopped
    },
  }
}
