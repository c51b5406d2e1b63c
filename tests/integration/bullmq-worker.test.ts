/** How a worker tells what it saw: together, once, and in spite of a station that is away or refuses one of them. */
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { startBullmqQueue } from '../../services/queue/bullmq.ts'
import { type BullmqWorker, startBullmqWorker } from '../../services/queue/bullmq-worker.ts'
import type { EyeProcess } from '../../services/queue/eye-process.ts'
import { NotTheStillsFault, type Queue } from '../../services/queue/queue.ts'
import type { DoneLook, StationOfWorker } from '../../services/queue/station-of-worker.ts'
import { until } from '../faults/service-process.ts'
import { noRedis, type RedisServer, startRedis } from './redis-server.ts'

const nextTurn = () => new Promise((resolve) => setTimeout(resolve))

describe.skipIf(noRedis !== null)(
  `a worker with its queue${noRedis === null ? '' : ` (skipped: ${noRedis})`}`,
  () => {
    let redis: RedisServer
    let queue: Queue
    let worker: BullmqWorker
    let stations = 0
    let waiting: Set<number>
    /** The stills of each call, and how each was seen. */
    let calls: number[][]
    let told: Map<number, string>
    /** Those at which the eye sits until it is stopped. */
    let slow: Set<number>
    let seen: number[]
    let onRecord: (looks: readonly DoneLook[]) => void

    beforeAll(async () => {
      redis = await startRedis()
    })
    afterAll(() => redis.remove())
    beforeEach(() => {
      waiting = new Set()
      calls = []
      told = new Map()
      slow = new Set()
      seen = []
      onRecord = () => undefined
    })
    afterEach(async () => {
      await worker.stop()
      await queue.stop()
    })

    const station: StationOfWorker = {
      // A still's number stands for its bytes.
      take: async ({ stillId }) => ({ bytes: Uint8Array.of(stillId) }),
      async record(looks) {
        calls.push(looks.map(({ still }) => still.stillId))
        onRecord(looks)
        for (const { still, outcome } of looks) {
          waiting.delete(still.stillId)
          told.set(still.stillId, outcome.kind)
        }
        return looks.map(() => 'recorded')
      },
    }

    function openEye(): EyeProcess {
      let stop: () => void = () => undefined
      const stopped = new Promise<never>((_, reject) => {
        stop = () => reject(new NotTheStillsFault('the eye is stopped', { alone: false }))
      })
      stopped.catch(() => undefined)
      return {
        ...{ state: () => 'ready', restarts: () => 0, models: () => null, plan: () => null, atOnce: () => 1 },
        async look(still) {
          const id = 'bytes' in still ? still.bytes[0]! : 0
          if (slow.has(id)) return await stopped
          seen.push(id)
          return { kind: 'unreadable', reason: 'made up' }
        },
        stop: async () => stop(),
      }
    }

    /** Photos 1 to `count` wait, and a worker begins. */
    async function start(count: number): Promise<void> {
      const queueName = `worker-${++stations}`
      for (let id = 1; id <= count; id += 1) waiting.add(id)
      queue = startBullmqQueue(
        {
          log: () => undefined,
          findWaiting: async () => [...waiting].map((stillId) => ({ stillId, urgency: 'today' })),
        },
        { redisUrl: redis.url, queueName, givenUp: () => 0 },
      )
      await until('they are queued', async () => queue.depth().waiting === count)
      const place = { redisUrl: redis.url, queueName }
      worker = startBullmqWorker({ ...place, eye: openEye(), station, log: () => undefined })
    }
    const allTold = () => until('all are told', async () => waiting.size === 0)

    it('a station that is away is asked again with the same results, not once for each of them', async () => {
      let away = 3
      onRecord = () => {
        away -= 1
        if (away >= 0) throw new NotTheStillsFault('away', { alone: false })
      }
      await start(6)
      await allTold()
      expect(calls.slice(1, 4)).toEqual([calls[0], calls[0], calls[0]])
      // What was looked at meanwhile waited for the first to come through.
      expect(calls.slice(4).flat().sort()).toEqual([...told.keys()].filter((id) => !calls[0]!.includes(id)))
      expect(worker.counts()).toEqual({ done: 6, failed: 0 })
    })

    it('one that the station refuses is tried again and given up; those it came with are recorded', async () => {
      onRecord = (looks) => {
        const isRefused = ({ still, outcome }: DoneLook) => still.stillId === 2 && outcome.kind !== 'gave up'
        if (looks.some(isRefused)) throw new Error('400')
      }
      await start(4)
      await allTold()
      expect(Object.fromEntries(told)).toEqual({
        1: 'unreadable',
        2: 'gave up',
        3: 'unreadable',
        4: 'unreadable',
      })
      expect(worker.counts()).toEqual({ done: 3, failed: 1 })
    }, 30_000)

    it('what it holds when it is asked to stop goes at once', async () => {
      // Enough in hand beside it that its result is held.
      slow = new Set([1, 2, 3])
      await start(4)
      await until('the fourth is looked at', async () => seen.includes(4))
      const stopping = worker.stop()
      await nextTurn()
      expect(calls).toEqual([[4]])
      await stopping
      expect(told.size).toBe(1)
    })
  },
)
