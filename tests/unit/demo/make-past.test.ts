import { describe, expect, test } from 'vitest'
import { demoHeartbeats } from '../../../services/demo/heartbeats.ts'
import { makePast, type PastProgress, type PastToMake } from '../../../services/demo/make-past.ts'
import { demoSchedule } from '../../../services/demo/schedule.ts'
import { NOWS, pool } from './period.ts'

const period = { now: NOWS[0]!, nights: 3, seed: 1, pool }
const schedule = demoSchedule(period)
const heartbeats = demoHeartbeats(period)

/** A past that notes what it was given to send; the file's name stands for the still. */
function pastThatNotes(changes: Partial<PastToMake> = {}) {
  const sent: string[] = []
  const beats: string[] = []
  const progress: PastProgress[] = []
  const past: PastToMake = {
    schedule,
    heartbeats,
    makeStill: async (still) => ({ bytes: Buffer.alloc(0), fileName: `${still.pointKey} ${still.at}` }),
    send: async (_camera, _bytes, fileName) => sent.push(fileName),
    heartbeat: async (camera, { at }) => beats.push(`${camera} ${at}`),
    onProgress: (one) => progress.push(one),
    shouldStop: () => false,
    alreadyMade: 0,
    ...changes,
  }
  return { past, sent, beats, progress }
}
const everyStill = schedule.map(({ pointKey, at }) => `${pointKey} ${at}`)

describe('making the past', () => {
  test('sends every still and every heartbeat once', async () => {
    const { past, sent, beats } = pastThatNotes()
    await makePast(past)
    expect(sent.sort()).toEqual([...everyStill].sort())
    expect(new Set(beats).size).toBe(heartbeats.length)
  })
  test('begins with the newest still', async () => {
    const { past, sent } = pastThatNotes()
    await makePast(past)
    expect(sent[0]).toBe(everyStill[0])
  })
  test('heartbeats come among the stills of their day: what was watched is right early', async () => {
    const order: number[] = []
    const at = (instant: number) => order.push(instant)
    await makePast(
      pastThatNotes({
        send: async (_camera, _bytes, fileName) => at(Number(fileName.split(' ')[1])),
        heartbeat: async (_camera, beat) => at(beat.at),
      }).past,
    )
    // Four at once may overtake one another by a few places, never by a day.
    const outOfOrder = order.filter(
      (instant, index) => instant > (order[index - 1] ?? instant) + 12 * 3_600_000,
    )
    expect(outOfOrder).toEqual([])
  })
  test('never has more than four in hand', async () => {
    let inHand = 0
    let most = 0
    const { past } = pastThatNotes({
      send: async () => {
        inHand += 1
        most = Math.max(most, inHand)
        await new Promise((resolve) => setImmediate(resolve))
        inHand -= 1
      },
    })
    await makePast(past)
    expect(most).toBe(4)
  })
  test('tells how far it is, up to the whole', async () => {
    const { past, progress } = pastThatNotes()
    const end = await makePast(past)
    expect(end).toEqual({
      made: schedule.length,
      of: schedule.length,
      step: schedule.length + heartbeats.length,
    })
    expect(progress.at(-1)).toEqual(end)
    expect(progress.map(({ made }) => made)).toEqual(progress.map(({ made }) => made).sort((a, b) => a - b))
  })
  test('stopped and started again it goes on: nothing is missing, and only what was in hand comes twice', async () => {
    const first = pastThatNotes({ shouldStop: () => first.sent.length >= 10 })
    const stopped = await makePast(first.past)
    expect(stopped.made).toBeLessThan(schedule.length)
    const second = pastThatNotes({ alreadyMade: stopped.step })
    const end = await makePast(second.past)
    expect(end.made).toBe(schedule.length)
    const both = [...first.sent, ...second.sent]
    expect(new Set(both)).toEqual(new Set(everyStill))
    expect(both.length - schedule.length).toBeLessThanOrEqual(4)
  })
  test('a step that failed is not counted as made, and its failure is passed on whole', async () => {
    let calls = 0
    const { past } = pastThatNotes({
      send: async (_camera, _bytes, fileName) => {
        calls += 1
        if (fileName === everyStill[0]) throw new Error('disk full')
      },
    })
    let step = -1
    await expect(makePast({ ...past, onProgress: (one) => (step = one.step) })).rejects.toThrow('disk full')
    expect(step).toBeLessThanOrEqual(0)
    expect(calls).toBeLessThanOrEqual(4)
  })
})
