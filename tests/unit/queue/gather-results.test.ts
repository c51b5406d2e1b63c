/** A worker's results go to the station together, and none waits longer than it must. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { gatherResults } from '../../../services/queue/gather-results.ts'
import type { DoneLook } from '../../../services/queue/station-of-worker.ts'
import type { Recorded } from '../../../services/store/results.ts'

const HOLD_MS = 400
let mayHold: boolean
/** The stills of each sending. */
let sent: number[][]
/** Ends the sending that is under way. */
let answer: Array<(fault?: unknown) => void>

beforeEach(() => {
  vi.useFakeTimers()
  mayHold = true
  sent = []
  answer = []
})
afterEach(() => {
  vi.useRealTimers()
})

class OfAll extends Error {}

const open = () =>
  gatherResults({
    holdMs: HOLD_MS,
    mayHold: () => mayHold,
    isOfAll: (fault) => fault instanceof OfAll,
    async send(looks) {
      sent.push(looks.map(({ still }) => still.stillId))
      await new Promise<void>((resolve, reject) =>
        answer.push((fault) => (fault === undefined ? resolve() : reject(fault))),
      )
      return looks.map(({ still }): Recorded => (still.stillId === 2 ? 'gone' : 'recorded'))
    },
  })
const lookAt = (stillId: number): DoneLook => ({
  still: { stillId, urgency: 'today' },
  outcome: { kind: 'unreadable', reason: 'broken' },
})
const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms)

it('a result goes at once where the eye would have nothing to go on with', async () => {
  mayHold = false
  const results = open()
  void results.add(lookAt(1))
  expect(sent).toEqual([[1]])
})

it('while the eye has more, results wait for each other, and each has its own answer', async () => {
  const results = open()
  const first = results.add(lookAt(1))
  const second = results.add(lookAt(2))
  expect(sent).toEqual([])
  await pass(HOLD_MS)
  expect(sent).toEqual([[1, 2]])
  answer[0]!()
  expect(await Promise.all([first, second])).toEqual(['recorded', 'gone'])
})

it('what is held goes as soon as the eye has too little left, or the worker stops', async () => {
  const results = open()
  void results.add(lookAt(1))
  results.reconsider()
  expect(sent).toEqual([])
  mayHold = false
  results.reconsider()
  expect(sent).toEqual([[1]])
})

it('what is looked at while others are sent goes with the next, however long that takes', async () => {
  mayHold = false
  const results = open()
  for (const id of [1, 3, 4]) void results.add(lookAt(id))
  await pass(100 * HOLD_MS)
  expect(sent).toEqual([[1]])
  answer[0]!()
  await pass(0)
  expect(sent).toEqual([[1], [3, 4]])
})

it('of a sending that is refused each goes alone: one bad result does not fail the others', async () => {
  const results = open()
  const all = Promise.allSettled([1, 3, 4].map((id) => results.add(lookAt(id))))
  await pass(HOLD_MS)
  answer[0]!(new Error('400'))
  for (const fault of [undefined, new Error('this one'), undefined]) {
    await pass(0)
    answer.at(-1)!(fault)
  }
  expect((await all).map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled'])
  expect(sent).toEqual([[1, 3, 4], [1], [3], [4]])
})

it('a fault of all of them is not multiplied', async () => {
  const results = open()
  const all = Promise.allSettled([1, 3, 4].map((id) => results.add(lookAt(id))))
  await pass(HOLD_MS)
  answer[0]!(new OfAll('revoked'))
  expect((await all).map(({ status }) => status)).toEqual(['rejected', 'rejected', 'rejected'])
  expect(sent).toEqual([[1, 3, 4]])
})
