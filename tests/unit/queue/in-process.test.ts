/** The queue in memory: bounded, so many in hand, tries again, gives up with a reason, and loses nothing it forgets. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { type InProcessOptions, startInProcessQueue } from '../../../services/queue/in-process.ts'
import {
  NotTheStillsFault,
  type Queue,
  type QueueWork,
  type WaitingStill,
} from '../../../services/queue/queue.ts'

interface Ledger {
  readonly waiting: Set<number>
  readonly done: number[]
  readonly givenUp: Array<{ id: number; reason: string }>
  readonly inHandAtOnce: { now: number; most: number }
  readonly tried: Map<number, number>
  readonly offeredLooks: Array<WaitingStill['look']>
  /** What a look at this still does; by default it succeeds. */
  readonly looks: Map<number, (tries: number) => Promise<void> | void>
}

let ledger: Ledger
let queue: Queue

beforeEach(() => {
  vi.useFakeTimers()
  ledger = {
    waiting: new Set(),
    done: [],
    givenUp: [],
    inHandAtOnce: { now: 0, most: 0 },
    tried: new Map(),
    offeredLooks: [],
    looks: new Map(),
  }
})
afterEach(() => {
  vi.useRealTimers()
})

function start(options: Partial<InProcessOptions> = {}): Queue {
  const tries = ledger.tried
  const work: QueueWork = {
    log: () => undefined,
    findWaiting: async ({ limit, except }) =>
      [...ledger.waiting]
        .filter((id) => !except.includes(id))
        .slice(0, limit)
        .map((stillId) => ({ stillId, urgency: 'today' })),
    async process({ stillId: id, look }) {
      ledger.offeredLooks.push(look)
      const { inHandAtOnce } = ledger
      inHandAtOnce.now += 1
      inHandAtOnce.most = Math.max(inHandAtOnce.most, inHandAtOnce.now)
      tries.set(id, (tries.get(id) ?? 0) + 1)
      try {
        // A look takes a while, so that several can be in hand.
        await new Promise((resolve) => setTimeout(resolve, 10))
        await ledger.looks.get(id)?.(tries.get(id)!)
      } finally {
        inHandAtOnce.now -= 1
      }
      ledger.waiting.delete(id)
      ledger.done.push(id)
    },
    async giveUp({ stillId: id }, reason) {
      ledger.waiting.delete(id)
      ledger.givenUp.push({ id, reason })
    },
  }
  queue = startInProcessQueue(work, { inHandAtOnce: 2, ...options })
  return queue
}

const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms)
const arrive = (...ids: number[]) => {
  for (const id of ids) {
    ledger.waiting.add(id)
    queue.offer({ stillId: id, urgency: 'today' })
  }
}

it('works through what waits in order of arrival, no more than the set number at once', async () => {
  start()
  arrive(1, 2, 3, 4, 5)
  await pass(100)
  expect(ledger.done).toEqual([1, 2, 3, 4, 5])
  expect(ledger.inHandAtOnce.most).toBe(2)
})

it('follows an eye that takes more at once when it is up', async () => {
  let takes = 1
  start({ inHandAtOnce: () => takes })
  arrive(1, 2, 3, 4, 5, 6)
  await pass(5)
  expect(ledger.inHandAtOnce.most).toBe(1)
  takes = 3
  await pass(100)
  expect(ledger.inHandAtOnce.most).toBe(3)
})

it('asks the ledger at its start: what a killed service left is taken up without being offered', async () => {
  ledger.waiting.add(7).add(8)
  start()
  await pass(100)
  expect(ledger.done).toEqual([7, 8])
})

it('takes up fresh photos before old cards, and what is looked at again last', async () => {
  start({ inHandAtOnce: 1 })
  arrive(1)
  queue.offer({ stillId: 2, urgency: 'again' })
  queue.offer({ stillId: 3, urgency: 'old' })
  queue.offer({ stillId: 4, urgency: 'today' })
  queue.offer({ stillId: 5, urgency: 'old' })
  await pass(200)
  expect(ledger.done).toEqual([1, 4, 3, 5, 2])
})

it('full of old photos, it forgets one of them rather than a fresh one', async () => {
  start({ inHandAtOnce: 1, maxWaiting: 2 })
  arrive(1)
  for (const stillId of [2, 3]) {
    ledger.waiting.add(stillId)
    queue.offer({ stillId, urgency: 'old' })
  }
  arrive(4)
  await pass(25)
  expect(ledger.done).toEqual([1, 4])
  await pass(500)
  expect([...ledger.done].sort()).toEqual([1, 2, 3, 4])
})

it('a still offered twice is looked at once', async () => {
  start()
  arrive(1, 1, 1)
  await pass(100)
  expect(ledger.done).toEqual([1])
})

it('forgets what exceeds its bound and finds it again in the ledger, without waiting for the minute', async () => {
  start({ maxWaiting: 4 })
  const ids = Array.from({ length: 50 }, (_, index) => index + 1)
  arrive(...ids)
  expect(queue.depth().waiting).toBeLessThanOrEqual(4)
  await pass(1_000)
  expect([...ledger.done].sort((a, b) => a - b)).toEqual(ids)
})

it('asks the ledger again every minute', async () => {
  start()
  await pass(100)
  ledger.waiting.add(9)
  await pass(30_000)
  expect(ledger.done).toEqual([])
  await pass(31_000)
  expect(ledger.done).toEqual([9])
})

it('tries again, each time after a longer wait, and succeeds', async () => {
  ledger.looks.set(1, (tries) => {
    if (tries < 3) throw new Error('the eye ended')
  })
  start({ firstRetryMs: 100 })
  arrive(1)
  await pass(50)
  expect(queue.depth()).toEqual({ waiting: 1, inHand: 0, givenUp: 0 })
  await pass(1_000)
  expect(ledger.done).toEqual([1])
  expect(queue.depth()).toEqual({ waiting: 0, inHand: 0, givenUp: 0 })
})

it('gives up after the set number of tries, keeps the reason, and goes on with the rest', async () => {
  ledger.looks.set(1, () => {
    throw new Error('the eye ended (SIGSEGV) while reading')
  })
  start({ firstRetryMs: 10, maxTries: 3 })
  arrive(1, 2, 3)
  await pass(1_000)
  expect(ledger.givenUp).toEqual([
    { id: 1, reason: 'could not be read in 3 tries: the eye ended (SIGSEGV) while reading' },
  ])
  expect(ledger.done).toEqual([2, 3])
  expect(queue.depth().givenUp).toBe(1)
})

it('never gives up a still for a fault that is not its own', async () => {
  ledger.looks.set(1, (tries) => {
    if (tries < 12) throw new NotTheStillsFault('the ledger is away', { alone: false })
  })
  start({ firstRetryMs: 10, maxTries: 2 })
  arrive(1)
  await pass(10 * 60_000)
  expect(ledger.givenUp).toEqual([])
  expect(ledger.done).toEqual([1])
})

it('a suspect of an eye that fell over is tried with nothing else in hand', async () => {
  let othersInHand = -1
  ledger.looks.set(1, (tries) => {
    if (tries === 1)
      throw new NotTheStillsFault('the eye ended while reading several photos', { alone: true })
    othersInHand = ledger.inHandAtOnce.now - 1
  })
  start({ firstRetryMs: 15 })
  arrive(1, 2, 3, 4, 5, 6)
  await pass(1_000)
  expect(othersInHand).toBe(0)
  expect([...ledger.done].sort()).toEqual([1, 2, 3, 4, 5, 6])
})

it('stops in good order: what is in hand is finished, what waits is left to the ledger', async () => {
  start()
  arrive(1, 2, 3, 4)
  await pass(5)
  const stopped = queue.stop()
  await pass(1_000)
  await stopped
  expect(ledger.done).toEqual([1, 2])
  expect([...ledger.waiting]).toEqual([3, 4])
})

it('told that the ledger says otherwise now, it forgets what nobody has in hand and asks', async () => {
  start({ inHandAtOnce: 1 })
  arrive(1, 2, 3)
  await pass(5)
  ledger.waiting.delete(2)
  queue.askAnew()
  await pass(100)
  expect(ledger.done).toEqual([1, 3])
})

it('what was asked before the ledger changed is not taken up', async () => {
  start({ inHandAtOnce: 1 })
  await pass(0)
  ledger.waiting.add(1).add(2)
  queue.refill()
  // The answer with both is on its way.
  ledger.waiting.delete(1)
  queue.askAnew()
  await pass(100)
  expect(ledger.done).toEqual([2])
})

it('one that failed keeps its tries when the ledger is asked anew', async () => {
  start({ inHandAtOnce: 1, maxTries: 2, firstRetryMs: 50 })
  ledger.looks.set(1, () => Promise.reject(new Error('broken')))
  ledger.looks.set(2, () => new Promise((resolve) => setTimeout(resolve, 200)))
  arrive(1, 2)
  // The first has failed once and waits behind the second.
  await pass(100)
  queue.askAnew()
  await pass(1_000)
  expect(ledger.givenUp).toEqual([{ id: 1, reason: expect.stringContaining('in 2 tries') }])
  expect(ledger.tried.get(1)).toBe(2)
})

it('what was offered of a photo is not believed a second time', async () => {
  start({ inHandAtOnce: 1, firstRetryMs: 50 })
  ledger.looks.set(1, (tries) => (tries === 1 ? Promise.reject(new Error('once')) : undefined))
  const look = { hash: 'ab'.repeat(32), tiles: false }
  ledger.waiting.add(1)
  queue.offer({ stillId: 1, urgency: 'today', look })
  await pass(1_000)
  expect(ledger.offeredLooks).toEqual([look, undefined])
})
