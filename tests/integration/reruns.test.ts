/** Old photos looked at again by newer models: old results stand until the new ones take their place, and checks always. */
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest'
import type { Queue } from '../../services/queue/queue.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordAgain } from '../../services/store/again.ts'
import { recordChecks } from '../../services/store/checks.ts'
import type { RerunRange } from '../../services/store/rerun-stills.ts'
import {
  countForRerun,
  listReruns,
  startRerun,
  stepRerun,
  stopRerunOfOtherModels,
} from '../../services/store/reruns.ts'
import { recordResult } from '../../services/store/results.ts'
import { findWaiting } from '../../services/store/waiting.ts'
import type { Instant, NightDate, Species, Tally } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { models, openSmallStation, receive, record, type SmallStation } from './small-station.ts'
import { foundOf, type Look, newerModels, seenAs, startStubQueue } from './stub-looks.ts'

const EVENING = parseInstant('2026-10-02T18:00:00+09:30')
const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const MINUTE_MS = 60_000
/** After which the queue gives a photo up (services/queue/in-process.ts). */
const QUEUE_TRIES = 4
const ALL_NIGHTS = {
  fromNight: '2026-09-01' as NightDate,
  toNight: '2026-10-31' as NightDate,
  pointIds: null,
  cameraIds: null,
  unreadableToo: false,
}
const at = (minutes: number) => (EVENING + minutes * MINUTE_MS) as Instant
const again = (found: Tally, score = 0.9) => ({
  kind: 'seen' as const,
  width: 640,
  height: 360,
  found: foundOf(found, score).map((one) => ({ ...one, runnerUp: 0.01 })),
  models: newerModels,
})

let station: SmallStation
let names: string[]
beforeEach(async () => {
  station = await openSmallStation()
  names = []
})
afterEach(async () => {
  await station.close()
})

/** A photo so many minutes after the evening began, looked at by the older models. Its name is its minute. */
async function oldPhoto(minutes: number, tally: Tally, cameraId = station.cameraIds[0]): Promise<number> {
  const name = String(minutes)
  names.push(name)
  const id = await receive(station, { name, cameraId, at: at(minutes) })
  await record(station, id, tally)
  return id
}

/** A queue with such an eye, stopped when the test ends. */
function look(see: Look, options: { readonly inHandAtOnce?: number } = {}): Queue {
  const queue = startStubQueue(station.ledger, see, { names, ...options })
  onTestFinished(() => queue.stop())
  return queue
}

const start = (range: RerunRange = ALL_NIGHTS) =>
  startRerun(station.ledger, range, { models: newerModels, now: NOW })
const rerunNow = async () => (await listReruns(station.ledger))[0]!
const stillNow = (id: number) =>
  station.ledger.selectFrom('stills').selectAll().where('id', '=', id).executeTakeFirstOrThrow()
const headOf = async (id: number) =>
  Object.fromEntries(
    (
      await station.ledger
        .selectFrom('sightings')
        .select(['species', 'head'])
        .where('still_id', '=', id)
        .execute()
    ).map(({ species, head }) => [species, head]),
  )
const lookedAtBy = async (id: number) =>
  (
    await station.ledger
      .selectFrom('stills')
      .innerJoin('models', 'models.id', 'stills.model_id')
      .select('version')
      .where('stills.id', '=', id)
      .executeTakeFirst()
  )?.version
const say = (stillId: number, verdict: 'agreed' | 'withdrawn') =>
  recordChecks(station.ledger, { words: [{ stillId, verdict }], who: 'test', at: NOW })
const until = (probe: () => Promise<void>) => vi.waitFor(probe, { timeout: 40_000, interval: 20 })
const untilDone = () => until(async () => expect((await rerunNow()).state).toBe('done'))

/** Resolves a look when the test says so. */
function gate() {
  let open: () => void = () => undefined
  const opened = new Promise<void>((resolve) => {
    open = resolve
  })
  return { opened, open }
}

describe('a re-run', () => {
  it('puts the new result in the place of the old, and the kept counts equal a count from nothing', async () => {
    const first = await oldPhoto(0, { camel: 3 })
    const second = await oldPhoto(20, { camel: 1 })
    const third = await oldPhoto(2000, { cattle: 2 })
    await start()
    look((name) => seenAs({ '0': { camel: 2, donkey: 1 }, '20': {}, '2000': { cattle: 5 } }[name]!))
    await untilDone()
    expect([await headOf(first), await headOf(second), await headOf(third)]).toEqual([
      { camel: 2, donkey: 1 },
      {},
      { cattle: 5 },
    ])
    expect(await lookedAtBy(second)).toBe('2')
    expect(await rerunNow()).toMatchObject({ total: 3, done: 3, failed: 0 })
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    const boxes = await station.ledger.selectFrom('detections').select('still_id').execute()
    expect(boxes).toHaveLength(8)
    // Embeddings of the old boxes went with them; cattle alone are not worth a look and have none.
    expect(await station.ledger.selectFrom('embeddings').select('detection_id').execute()).toHaveLength(3)
  })

  it('changes no count where the newer models see the same', async () => {
    const tally = fc.dictionary(
      fc.constantFrom<Species>('cattle', 'camel', 'goat'),
      fc.integer({ min: 1, max: 3 }),
      { maxKeys: 2, noNullPrototype: true },
    )
    const photo = fc.record({
      minutes: fc.integer({ min: 0, max: 2880 }).map((minutes) => Math.round(minutes / 15) * 15),
      tally,
      word: fc.constantFrom('agreed' as const, 'corrected' as const, null),
    })
    const photos = fc.uniqueArray(photo, { selector: ({ minutes }) => minutes, minLength: 2, maxLength: 12 })
    await fc.assert(
      fc.asyncProperty(photos, async (some) => {
        const own = await openSmallStation()
        const seen = new Map(some.map((one) => [String(one.minutes), one.tally]))
        try {
          for (const { minutes, tally: counts, word } of some) {
            const cameraId = own.cameraIds[0]
            const id = await receive(own, { name: String(minutes), cameraId, at: at(minutes) })
            await record(own, id, counts)
            if (word === null) continue
            const said = {
              stillId: id,
              verdict: word,
              ...(word === 'corrected' && { counts: { horse: 2 } }),
            }
            await recordChecks(own.ledger, { words: [said], who: 'test', at: NOW })
          }
          const before = await keptAggregates(own.ledger)
          await startRerun(own.ledger, ALL_NIGHTS, { models: newerModels, now: NOW })
          const queue = startStubQueue(own.ledger, (name) => seenAs(seen.get(name)!), {
            names: [...seen.keys()],
          })
          await until(async () => expect((await listReruns(own.ledger))[0]?.done).toBe(some.length))
          await queue.stop()
          expect(await keptAggregates(own.ledger)).toEqual(before)
        } finally {
          await own.close()
        }
      }),
      { numRuns: 4 },
    )
  }, 240_000)

  it('leaves a person’s word standing, said before it or while it goes on', async () => {
    const before = await oldPhoto(0, { camel: 3 })
    const during = await oldPhoto(60, { camel: 4 })
    await say(before, 'agreed')
    await start()
    const { opened, open } = gate()
    look(async () => {
      await opened
      return seenAs({ goat: 9 })
    })
    // The old count stands, and can be agreed to, as long as the new one is not there.
    await say(during, 'agreed')
    open()
    await untilDone()
    expect([await headOf(before), await headOf(during)]).toEqual([{ camel: 3 }, { camel: 4 }])
    expect(await stillNow(during)).toMatchObject({ checked: true, flagged: true })
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    // The word taken back, what the newer models saw stands.
    await say(during, 'withdrawn')
    expect(await headOf(during)).toEqual({ goat: 9 })
  })

  it('goes on where it was when it is killed in the middle', async () => {
    for (const minutes of [0, 10, 20, 30, 40, 50]) await oldPhoto(minutes, { camel: 1 })
    await start()
    const never = gate()
    let looks = 0
    // It hangs after two, as if it had been killed there: nobody waits for it, and nothing is asked of it any more.
    const killed = startStubQueue(
      station.ledger,
      async () => {
        looks += 1
        if (looks > 2) await never.opened
        return seenAs({ camel: 2 })
      },
      { names, inHandAtOnce: 1 },
    )
    await until(async () => expect((await rerunNow()).done).toBe(2))
    const seenAgain: string[] = []
    look((name) => {
      seenAgain.push(name)
      return seenAs({ camel: 2 })
    })
    await untilDone()
    expect(await rerunNow()).toMatchObject({ total: 6, done: 6, failed: 0 })
    // Four were left; none of the two was looked at a second time.
    expect(new Set(seenAgain).size).toBe(4)
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    // The look that hung comes back late, with another answer, and changes nothing.
    never.open()
    await killed.stop()
    expect(await rerunNow()).toMatchObject({ done: 6 })
  })

  it('takes nothing while it is paused, writes down what was in hand, and goes on when told', async () => {
    for (const minutes of [0, 10, 20, 30]) await oldPhoto(minutes, { camel: 1 })
    const { id } = await start()
    const { opened, open } = gate()
    let looks = 0
    const queue = look(
      async () => {
        looks += 1
        await opened
        return seenAs({ camel: 2 })
      },
      { inHandAtOnce: 1 },
    )
    await until(async () => expect(looks).toBe(1))
    await stepRerun(station.ledger, id, 'pause')
    open()
    await until(async () => expect(queue.depth()).toMatchObject({ waiting: 0, inHand: 0 }))
    expect(looks).toBe(1)
    expect(await rerunNow()).toMatchObject({ state: 'paused', done: 1 })
    expect(await findWaiting(station.ledger, { limit: 10, except: [] })).toEqual([])
    await stepRerun(station.ledger, id, 'resume')
    queue.refill()
    await untilDone()
    expect(looks).toBe(4)
  })

  it('comes after every photo that has not been looked at yet', async () => {
    await oldPhoto(0, { camel: 1 })
    await oldPhoto(60, { camel: 1 })
    await start()
    names.push('fresh')
    await receive(station, { name: 'fresh', cameraId: station.cameraIds[0], at: at(120) })
    const waiting = await findWaiting(station.ledger, { limit: 2, except: [] })
    expect(waiting.map(({ urgency }) => urgency)).toEqual(['today', 'again'])
    const order: string[] = []
    look(
      (name) => {
        order.push(name)
        return seenAs({})
      },
      { inHandAtOnce: 1 },
    )
    await untilDone()
    // Of the old ones the newest night first, and in a night the latest to arrive.
    expect(order).toEqual(['fresh', '60', '0'])
  })

  it('leaves one result when two workers look at the same photo', async () => {
    const id = await oldPhoto(0, { camel: 1 })
    await oldPhoto(10, { camel: 1 })
    await start()
    const said = await Promise.all([
      recordAgain(station.ledger, id, again({ camel: 2 })),
      recordAgain(station.ledger, id, again({ camel: 2 })),
    ])
    expect(said.sort()).toEqual(['already', 'recorded'])
    expect(await recordAgain(station.ledger, id, again({ donkey: 7 }))).toBe('already')
    expect(await headOf(id)).toEqual({ camel: 2 })
    const boxes = station.ledger.selectFrom('detections').select('id').where('still_id', '=', id)
    expect(await boxes.execute()).toHaveLength(2)
    expect(await rerunNow()).toMatchObject({ done: 1, failed: 0, state: 'running' })
  })

  it('of a photo that a person removed meanwhile writes down nothing', async () => {
    const id = await oldPhoto(0, { camel: 1 })
    await start()
    await station.ledger.deleteFrom('stills').where('id', '=', id).execute()
    expect(await recordAgain(station.ledger, id, again({ camel: 2 }))).toBe('gone')
  })

  it('a look that fails every time leaves the old result, is told with its reason, and is not tried for ever', async () => {
    const fails = await oldPhoto(0, { camel: 3 })
    const well = await oldPhoto(60, { camel: 1 })
    await start()
    let tries = 0
    look((name) => {
      if (name === '60') return seenAs({ camel: 2 })
      tries += 1
      throw new Error('the picture would not open')
    })
    await untilDone()
    expect(tries).toBe(QUEUE_TRIES)
    const rerun = await rerunNow()
    expect(rerun).toMatchObject({ done: 1, failed: 1 })
    expect(rerun.failures).toEqual([
      { stillId: fails, reason: expect.stringContaining('the picture would not open') },
    ])
    expect(rerun.last_error).toContain('the picture would not open')
    expect([await headOf(fails), await lookedAtBy(fails)]).toEqual([{ camel: 3 }, '1'])
    expect(await headOf(well)).toEqual({ camel: 2 })
    expect(await findWaiting(station.ledger, { limit: 10, except: [] })).toEqual([])
    // A new one asks for it once more.
    await start()
    expect(await findWaiting(station.ledger, { limit: 10, except: [] })).toMatchObject([
      { stillId: fails, urgency: 'again' },
    ])
  })

  it('a photo that cannot be read the second time keeps what was seen the first', async () => {
    const id = await oldPhoto(0, { camel: 3 })
    await start()
    look(() => ({ kind: 'unreadable', reason: 'cut short' }))
    await untilDone()
    expect(await stillNow(id)).toMatchObject({ state: 'done', reason: null })
    expect(await headOf(id)).toEqual({ camel: 3 })
    expect(await rerunNow()).toMatchObject({ done: 0, failed: 1, last_error: 'cut short' })
  })

  it('looks at unreadable photos too where that is asked, and counts what it can read now', async () => {
    names.push('bad')
    const id = await receive(station, { name: 'bad', cameraId: station.cameraIds[0], at: at(0) })
    await recordResult(station.ledger, id, { kind: 'unreadable', reason: 'a format of its own' })
    await expect(start()).rejects.toThrow(/nothing to look at again/)
    await start({ ...ALL_NIGHTS, unreadableToo: true })
    look(() => seenAs({ camel: 1 }))
    await untilDone()
    expect(await stillNow(id)).toMatchObject({ state: 'done', reason: null })
    expect(await headOf(id)).toEqual({ camel: 1 })
    const camera = await station.ledger
      .selectFrom('cameras')
      .select('unreadable')
      .where('id', '=', station.cameraIds[0])
      .executeTakeFirst()
    expect(camera).toEqual({ unreadable: 0 })
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
  })

  it('looks at the nights and cameras asked for, and says beforehand how many photos that is', async () => {
    const early = await oldPhoto(0, { camel: 1 })
    const late = await oldPhoto(3 * 1440, { camel: 1 })
    const other = await oldPhoto(3 * 1440 + 1, { camel: 1 }, station.cameraIds[1])
    const count = (range: object) => countForRerun(station.ledger, { ...ALL_NIGHTS, ...range }, newerModels)
    expect(await count({})).toEqual({ stills: 3, fromNight: '2026-10-02', toNight: '2026-10-05' })
    const range = { fromNight: '2026-10-03' as NightDate, cameraIds: [station.cameraIds[0]] }
    expect(await count(range)).toEqual({ stills: 1, fromNight: '2026-10-05', toNight: '2026-10-05' })
    expect(await count({ pointIds: [station.pointId + 1] })).toMatchObject({ stills: 0, toNight: null })
    // What the present models looked at is not old.
    expect(await countForRerun(station.ledger, ALL_NIGHTS, models)).toMatchObject({ stills: 0 })
    await start({ ...ALL_NIGHTS, ...range })
    look(() => seenAs({ camel: 2 }))
    await untilDone()
    expect([await lookedAtBy(early), await lookedAtBy(late), await lookedAtBy(other)]).toEqual([
      '1',
      '2',
      '1',
    ])
  })

  it('is one at a time; stopped, what it had not come to stands as it was', async () => {
    const first = await oldPhoto(0, { camel: 1 })
    const second = await oldPhoto(60, { camel: 1 })
    const { id } = await start()
    await expect(start()).rejects.toThrow(/already/)
    await recordAgain(station.ledger, second, again({ camel: 2 }))
    await stepRerun(station.ledger, id, 'stop')
    expect(await recordAgain(station.ledger, first, again({ camel: 2 }))).toBe('already')
    expect([await headOf(first), await headOf(second)]).toEqual([{ camel: 1 }, { camel: 2 }])
    expect(await findWaiting(station.ledger, { limit: 10, except: [] })).toEqual([])
    await expect(stepRerun(station.ledger, id, 'resume')).rejects.toThrow(/stopped already/)
    expect(await start()).toMatchObject({ total: 1 })
  })

  it('started twice at once is one', async () => {
    await oldPhoto(0, { camel: 1 })
    const said = await Promise.allSettled([start(), start(), start()])
    expect(said.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    expect(await listReruns(station.ledger)).toHaveLength(1)
  })

  it('stops, and says why, when the station’s models are others than those it was started for', async () => {
    const id = await oldPhoto(0, { camel: 1 })
    await start()
    await stopRerunOfOtherModels(station.ledger, newerModels)
    expect(await rerunNow()).toMatchObject({ state: 'running' })
    const newest = { ...newerModels, version: '3' }
    expect(await recordAgain(station.ledger, id, { ...again({ camel: 9 }), models: newest })).toBe('already')
    expect(await rerunNow()).toMatchObject({ state: 'stopped', last_error: expect.stringMatching(/models/) })
    expect(await headOf(id)).toEqual({ camel: 1 })
    await start()
    await stopRerunOfOtherModels(station.ledger, newest)
    expect(await rerunNow()).toMatchObject({ state: 'stopped' })
  })
})
