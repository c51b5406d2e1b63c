/** The queue in Redis: a bounded part of what waits, in order of urgency, that may be lost at any time. */
import { Worker as BullWorker } from 'bullmq'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { type BullmqOptions, startBullmqQueue } from '../../services/queue/bullmq.ts'
import { type Queue, URGENCIES, type WaitingStill } from '../../services/queue/queue.ts'
import { connectRedis, type RedisLink } from '../../services/queue/redis.ts'
import { PREFIX } from '../../services/queue/still-jobs.ts'
import { until } from '../faults/service-process.ts'
import { noRedis, type RedisServer, startRedis } from './redis-server.ts'

const HASH = 'ab'.repeat(32)

describe.skipIf(noRedis !== null)(
  `the queue in Redis${noRedis === null ? '' : ` (skipped: ${noRedis})`}`,
  () => {
    let redis: RedisServer
    let queueName = ''
    let queues = 0
    let queue: Queue
    /** What the ledger says waits, by id. */
    let ledger: Map<number, WaitingStill>
    let asked: number
    let taker: { readonly worker: BullWorker; readonly link: RedisLink } | null = null
    let taken: number[]
    let takenLooks: Array<WaitingStill['look']>

    beforeAll(async () => {
      redis = await startRedis()
    })
    afterAll(() => redis.remove())
    beforeEach(async () => {
      await redis.start()
      queueName = `test-${++queues}`
      ledger = new Map()
      asked = 0
      taken = []
      takenLooks = []
    })
    afterEach(async () => {
      await stopTaking()
      await queue.stop()
    })

    function start(options: Partial<BullmqOptions> = {}): void {
      queue = startBullmqQueue(
        {
          log: () => undefined,
          async findWaiting({ limit }) {
            asked += 1
            return [...ledger.values()]
              .sort((a, b) => URGENCIES.indexOf(a.urgency) - URGENCIES.indexOf(b.urgency))
              .slice(0, limit)
          },
        },
        { redisUrl: redis.url, queueName, givenUp: () => 0, ...options },
      )
    }

    const up = () => until('the queue is up', async () => queue.isUp() && asked > 0)
    const holds = (count: number) =>
      until(`${count} jobs in the queue`, async () => queue.depth().waiting + queue.depth().inHand === count)

    /** Not only offered: told to Redis. */
    const inRedis = (stillId: number) =>
      until(`photo ${stillId} in Redis`, async () => {
        const link = connectRedis(redis.url, () => undefined)
        const there = await link.redis.exists(`${PREFIX}:${queueName}:still-${stillId}`)
        link.end()
        return there === 1
      })

    function arrive(still: WaitingStill): void {
      ledger.set(still.stillId, still)
      queue.offer(still)
    }

    /** Takes jobs one after the other, as a worker would that does nothing with them. */
    function startTaking(): void {
      const link = connectRedis(redis.url, () => undefined)
      const worker = new BullWorker(
        queueName,
        async ({ data }) => {
          taken.push(data.stillId)
          takenLooks.push(data.look)
          ledger.delete(data.stillId)
        },
        { connection: link.redis, prefix: PREFIX, runRetryDelay: 100 },
      )
      worker.on('error', () => undefined)
      taker = { worker, link }
    }

    async function stopTaking(): Promise<void> {
      await taker?.worker.close()
      taker?.link.end()
      taker = null
    }

    it('today’s photos go before old cards, and what is looked at again goes last', async () => {
      start()
      await up()
      arrive({ stillId: 1, urgency: 'again' })
      arrive({ stillId: 2, urgency: 'old' })
      arrive({ stillId: 3, urgency: 'today' })
      arrive({ stillId: 4, urgency: 'old' })
      arrive({ stillId: 5, urgency: 'today' })
      await holds(5)
      startTaking()
      await until('all are taken', async () => taken.length === 5)
      expect(taken).toEqual([3, 5, 2, 4, 1])
    })

    it('a photo offered twice, and found in the ledger as well, is one job', async () => {
      start()
      await up()
      arrive({ stillId: 7, urgency: 'today' })
      arrive({ stillId: 7, urgency: 'today' })
      await holds(1)
      const before = asked
      queue.refill()
      await until('the ledger was asked again', async () => asked > before)
      queue.offer({ stillId: 7, urgency: 'old' })
      await holds(1)
      startTaking()
      await holds(0)
      expect(taken).toEqual([7])
    })

    it('a job that has ended leaves nothing behind: the photo can be offered anew', async () => {
      start()
      await up()
      startTaking()
      arrive({ stillId: 7, urgency: 'today' })
      await until('it is taken', async () => taken.length === 1)
      await holds(0)
      arrive({ stillId: 7, urgency: 'again' })
      await until('it is taken again', async () => taken.length === 2)
      expect(taken).toEqual([7, 7])
    })

    it('a backlog goes into Redis part by part, and all of it is taken', async () => {
      for (let stillId = 1; stillId <= 60; stillId += 1) ledger.set(stillId, { stillId, urgency: 'old' })
      start({ maxQueued: 10 })
      await holds(10)
      startTaking()
      await until('all are taken', async () => ledger.size === 0)
      expect(new Set(taken).size).toBe(60)
    })

    it('a full queue still takes today’s photos', async () => {
      for (let stillId = 1; stillId <= 30; stillId += 1) ledger.set(stillId, { stillId, urgency: 'old' })
      start({ maxQueued: 10 })
      await holds(10)
      arrive({ stillId: 31, urgency: 'old' })
      arrive({ stillId: 32, urgency: 'today' })
      await holds(11)
      startTaking()
      await until('all are taken', async () => ledger.size === 0)
      expect(taken[0]).toBe(32)
    })

    it('while Redis is away photos can be offered, and are found in the ledger once it is back', async () => {
      start()
      await up()
      await redis.kill()
      await until('the loss is noticed', async () => !queue.isUp())
      for (let stillId = 1; stillId <= 5; stillId += 1) arrive({ stillId, urgency: 'today' })
      expect(queue.depth()).toEqual({ waiting: 0, inHand: 0, givenUp: 0 })
      await redis.start()
      await holds(5)
    })

    it('starts while Redis is away', async () => {
      await redis.stop()
      ledger.set(1, { stillId: 1, urgency: 'today' })
      start()
      arrive({ stillId: 2, urgency: 'today' })
      expect(queue.isUp()).toBe(false)
      await redis.start()
      await holds(2)
    })

    it('can be stopped while Redis is away', async () => {
      await redis.stop()
      start()
      await queue.stop()
      expect(queue.isUp()).toBe(false)
    })

    it('a queue that was emptied under it is filled again from the ledger, without waiting for the minute', async () => {
      start()
      await up()
      for (let stillId = 1; stillId <= 20; stillId += 1) arrive({ stillId, urgency: 'today' })
      await holds(20)
      const before = asked
      await redis.flush()
      await until('the ledger was asked again', async () => asked > before)
      await holds(20)
      startTaking()
      await until('all are taken', async () => ledger.size === 0)
    })

    it('told that the ledger says otherwise now, it offers what waits as that says', async () => {
      start()
      await up()
      arrive({ stillId: 1, urgency: 'today', look: { hash: HASH, tiles: false } })
      arrive({ stillId: 2, urgency: 'today', look: { hash: HASH, tiles: false } })
      await inRedis(1)
      await inRedis(2)
      ledger.set(1, { stillId: 1, urgency: 'today', look: { hash: HASH, tiles: true } })
      ledger.delete(2)
      queue.askAnew()
      await holds(1)
      startTaking()
      await holds(0)
      expect(taken).toEqual([1])
      expect(takenLooks).toEqual([{ hash: HASH, tiles: true }])
    })

    it('what an earlier service left in Redis is offered as the ledger says now', async () => {
      start()
      await up()
      arrive({ stillId: 1, urgency: 'today', look: { hash: HASH, tiles: false } })
      await inRedis(1)
      await queue.stop()
      ledger.set(1, { stillId: 1, urgency: 'today', look: { hash: HASH, tiles: true } })
      start()
      const before = asked
      await until('the ledger was asked', async () => asked > before)
      await holds(1)
      startTaking()
      await holds(0)
      expect(takenLooks).toEqual([{ hash: HASH, tiles: true }])
    })

    it('asks the ledger again and again, for what came in beside this service', async () => {
      start({ refillEveryMs: 200 })
      await up()
      ledger.set(9, { stillId: 9, urgency: 'today' })
      await holds(1)
    })
  },
)
