/** What a word on a photo holds beside the count; words that come twice; and who hears of them. */
import { randomUUID } from 'node:crypto'
import { setTimeout as wait } from 'node:timers/promises'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { checkCardsAnswer, checksRecorded, stillAnswer, waterRunAnswer } from '../../services/http/shapes.ts'
import { startService } from '../../services/serve.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recountStation } from '../../services/store/recount.ts'
import { wouldFree } from '../../services/store/retention.ts'
import { mayLeave, photoMayLeave } from '../../services/store/what-may-leave.ts'
import type { Instant, Tally } from '../../services/words.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { receive, record } from './small-station.ts'
import { openStationWithCamera } from './station.ts'

const EVENING = parseInstant('2026-11-24T21:00:00+10:30')
const NIGHT = '2026-11-24'
let service: TestService
let camera: SetUpCamera
let taken = 0

beforeAll(async () => {
  ;({ service, camera } = await openStationWithCamera())
})
afterAll(() => service?.stop())

/** A photo with made-up findings, a good while after the last. */
async function photo(tally: Tally, { minutes = 40, score = 0.9 } = {}): Promise<number> {
  taken += minutes
  const at = (EVENING + taken * 60_000) as Instant
  const station = {
    ledger: service.house.ledger,
    pointId: camera.pointId,
    cameraIds: [camera.id, camera.id] as const,
    close: async () => undefined,
  }
  const id = await receive(station, { name: `photo ${taken}`, cameraId: camera.id, at })
  await record(station, id, tally, score)
  return id
}

async function say(words: readonly object[], batch: object = {}) {
  const answer = await service.send('POST', '/api/checks', { words, ...batch })
  expect(answer.status, answer.bytes.toString()).toBe(201)
  return strictly(checksRecorded, answer)
}
const stillNow = async (id: number) => strictly(stillAnswer, await service.ask(`/api/stills/${id}`))
const standsNow = async (id: number) => (await stillNow(id)).still.check
const personNow = async (id: number) =>
  await service.house.ledger
    .selectFrom('stills')
    .select(['person', 'checked'])
    .where('id', '=', id)
    .executeTakeFirstOrThrow()
const leaving = async () =>
  (await service.house.ledger.selectFrom('stills').select('id').where(mayLeave()).execute()).map(
    ({ id }) => id,
  )
const cardsNow = async (query = '') =>
  strictly(checkCardsAnswer, await service.ask(`/api/checks/cards?night=${NIGHT}&limit=1000${query}`))

describe('marks', () => {
  test('go with a word on the count, and are in the log with who said them', async () => {
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'agreed', marks: ['branded', 'young', 'branded'] }], { who: 'Ash' })
    expect(await standsNow(id)).toMatchObject({
      who: 'Ash',
      verdict: 'agreed',
      counts: { camel: 2 },
      marks: ['branded', 'young'],
    })
  })
  test('a later word that says none leaves them as they stood; one that says other marks replaces them', async () => {
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'agreed', marks: ['person', 'ours'] }])
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 3 } }])
    expect(await standsNow(id)).toMatchObject({ counts: { camel: 3 }, marks: ['person', 'ours'] })
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 3 }, marks: [] }])
    expect((await standsNow(id))?.marks).toEqual([])
  })
  test('alone they say nothing of the count: the photo still waits, and the camera count stands', async () => {
    const id = await photo({ camel: 2 })
    const before = strictly(waterRunAnswer, await service.ask(`/api/water-run?night=${NIGHT}`)).rows[0]!
      .toCheck
    await say([{ stillId: id, verdict: 'marked', marks: ['injured'] }])
    const { still } = await stillNow(id)
    expect(still).toMatchObject({ tally: { camel: 2 }, check: { verdict: 'marked', counts: null } })
    expect(await personNow(id)).toEqual({ person: false, checked: false })
    const after = strictly(waterRunAnswer, await service.ask(`/api/water-run?night=${NIGHT}`)).rows[0]!
      .toCheck
    expect(after).toBe(before)
    const card = (await cardsNow()).cards.find(({ key }) => key === String(id))
    expect(card?.checked).toBe(false)
  })
  test('alone, after somebody’s count, that count goes on standing', async () => {
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 5 }, others: { sheep: 2 } }], {
      who: 'Ash',
    })
    await say([{ stillId: id, verdict: 'marked', marks: ['neighbour'] }], { who: 'Bee' })
    expect((await stillNow(id)).still.tally).toEqual({ camel: 5 })
    expect(await standsNow(id)).toMatchObject({ who: 'Bee', counts: { camel: 5 }, others: { sheep: 2 } })
    expect((await personNow(id)).checked).toBe(true)
  })
})

describe('a person in the picture', () => {
  test('keeps the photo at home, until the word is taken back; the owner sees it all the while', async () => {
    const id = await photo({ horse: 1 })
    expect(await leaving()).toContain(id)
    await say([{ stillId: id, verdict: 'marked', marks: ['person'] }])
    expect((await personNow(id)).person).toBe(true)
    expect(await leaving()).not.toContain(id)
    expect(photoMayLeave(await personNow(id))).toBe(false)
    expect((await stillNow(id)).still.check?.marks).toEqual(['person'])
    await say([{ stillId: id, verdict: 'agreed' }])
    expect(await leaving()).not.toContain(id)
    await say([{ stillId: id, verdict: 'withdrawn' }])
    expect(await leaving()).toContain(id)
  })
  test('is known again by a count from nothing', async () => {
    const id = await photo({ horse: 1 })
    await say([{ stillId: id, verdict: 'marked', marks: ['person'] }])
    const { ledger } = service.house
    await ledger.updateTable('stills').set({ person: false }).where('id', '=', id).execute()
    await recountStation(ledger)
    expect((await personNow(id)).person).toBe(true)
  })
})

test('an empty photo on which something is marked does not go with the empty ones', async () => {
  const { ledger, files } = service.house
  const now = (EVENING + 1000 * 86_400_000) as Instant
  const going = async () =>
    (await wouldFree({ ledger, files, now }, { empties: 'drop', afterDays: 60 })).photos
  const before = await going()
  const [marked] = [await photo({}), await photo({})]
  expect(await going()).toBe(before + 2)
  await say([{ stillId: marked, verdict: 'marked', marks: ['injured'] }])
  expect(await going()).toBe(before + 1)
})

describe('kinds of the station’s own', () => {
  test('stand in the log beside the count and are in no count', async () => {
    const id = await photo({ goat: 3 })
    await say([{ stillId: id, verdict: 'corrected', counts: {}, others: { sheep: 3 } }])
    expect((await stillNow(id)).still).toMatchObject({ tally: {}, check: { others: { sheep: 3 } } })
  })
})

describe('boxes that a person drew', () => {
  const box = { species: 'camel', box: [10, 20, 110, 90] }
  test('belong to the word, go on with the next, and go with their species', async () => {
    const id = await photo({ camel: 1 })
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 2 }, boxes: [box] }])
    expect((await standsNow(id))?.boxes).toEqual([box])
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 3 } }])
    expect((await standsNow(id))?.boxes).toEqual([box])
    await say([{ stillId: id, verdict: 'corrected', counts: { donkey: 3 } }])
    expect((await standsNow(id))?.boxes).toEqual([])
  })
  test('reach not beyond the photo', async () => {
    const id = await photo({ camel: 1 })
    const words = [{ stillId: id, verdict: 'agreed', boxes: [{ species: 'camel', box: [0, 0, 641, 100] }] }]
    const problem = problemOf(await service.send('POST', '/api/checks', { words }), 400)
    expect(problem.field).toBe('words.0.boxes')
  })
})

describe('a batch that comes twice', () => {
  test('is said once, and answered as the first time', async () => {
    const id = await photo({ camel: 2 })
    const batch = { batch: randomUUID(), who: 'Ash' }
    const words = [{ stillId: id, verdict: 'corrected', counts: { camel: 4 } }]
    const first = await say(words, batch)
    await say([{ stillId: id, verdict: 'corrected', counts: { camel: 9 } }])
    const again = await say(words, batch)
    expect(again.checks).toEqual(first.checks)
    const { still, checks } = await stillNow(id)
    expect([still.tally, checks.length]).toEqual([{ camel: 9 }, 2])
  })
  test('at the very same moment, too', async () => {
    const id = await photo({ camel: 2 })
    const batch = { batch: randomUUID() }
    const words = [{ stillId: id, verdict: 'agreed' }]
    const answers = await Promise.all([1, 2, 3, 4].map(() => say(words, batch)))
    expect(new Set(answers.map(({ checks }) => checks[0]?.id)).size).toBe(1)
    expect((await stillNow(id)).checks.length).toBe(1)
  })
  test('that was refused can be sent again', async () => {
    const batch = { batch: randomUUID() }
    const missing = { stillId: 999_999, verdict: 'agreed' }
    problemOf(await service.send('POST', '/api/checks', { words: [missing], ...batch }), 404)
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'agreed' }], batch)
    expect((await stillNow(id)).checks.length).toBe(1)
  })
  test('with other words under its id is refused', async () => {
    const id = await photo({ camel: 2 })
    const batch = { batch: randomUUID() }
    await say([{ stillId: id, verdict: 'agreed' }], batch)
    const words = [{ stillId: id, verdict: 'withdrawn' }]
    expect(problemOf(await service.send('POST', '/api/checks', { words, ...batch }), 409).field).toBe('batch')
    expect((await stillNow(id)).checks.length).toBe(1)
  })
})

describe('which cards there are', () => {
  test('a plain visit of cattle waits among the other visits, and stays there once it is said to be empty', async () => {
    const id = await photo({ cattle: 4 })
    const cardOf = async (query = '') => (await cardsNow(query)).cards.find(({ key }) => key === String(id))
    expect(await cardOf()).toBeUndefined()
    expect(await cardOf('&which=plain')).toMatchObject({ why: 'plain', peaks: { cattle: 4 }, checked: false })
    await say([{ stillId: id, verdict: 'corrected', counts: {} }])
    expect(await cardOf('&which=plain')).toMatchObject({ why: 'plain', peaks: {}, checked: true })
  })
  test('by what would teach most: the namer least decided comes first', async () => {
    const decided = await photo({ camel: 1 })
    const undecided = await photo({ camel: 1 })
    const { ledger } = service.house
    await ledger
      .updateTable('detections')
      .set({ namer: [0.05, 0.4, 0.05, 0.4, 0.05, 0.05] })
      .where('still_id', '=', undecided)
      .execute()
    const keys = (await cardsNow('&order=teaches')).cards.map(({ key }) => Number(key))
    expect(keys[0]).toBe(undecided)
    expect(keys).toContain(decided)
    expect(keys.length).toBe((await cardsNow()).cards.length)
  })
})

describe('who hears of it', () => {
  interface Heard {
    readonly said: string
    readonly status: number
    readonly type: string | null
    until(pattern: RegExp): Promise<void>
    close(): Promise<void>
  }
  const streams: Heard[] = []
  beforeEach(async () => {
    for (const stream of streams.splice(0)) await stream.close()
  })

  async function hearAt(address: string): Promise<Heard> {
    const stop = new AbortController()
    const response = await fetch(`${address}/api/events`, { signal: stop.signal })
    let said = ''
    const reading = (async () => {
      const decoder = new TextDecoder()
      for await (const chunk of response.body as unknown as AsyncIterable<Uint8Array>) {
        said += decoder.decode(chunk, { stream: true })
      }
    })().catch(() => undefined)
    const heard: Heard = {
      get said() {
        return said
      },
      status: response.status,
      type: response.headers.get('content-type'),
      async until(pattern) {
        while (!pattern.test(said)) await wait(10)
      },
      async close() {
        stop.abort()
        await reading
      },
    }
    streams.push(heard)
    return heard
  }

  test('every open page, with which photos, point and night changed', async () => {
    const [one, other] = await Promise.all([hearAt(service.address), hearAt(service.address)])
    expect(one.type).toBe('text/event-stream')
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'agreed' }])
    for (const { until } of [one, other]) await until(new RegExp(`"stillIds":\\[${id}\\]`))
    expect(one.said).toContain(`event: changed\ndata: {"stillIds":[${id}],"pointIds":[${camera.pointId}]`)
    expect(one.said).toContain(`"nights":["${NIGHT}"]`)
  })
  test('also at another process of the same station', async () => {
    const beside = await startService(
      { port: 0, host: '127.0.0.1', dataFolder: service.dataFolder, databaseUrl: service.databaseUrl },
      { log: () => undefined },
    )
    try {
      const far = await hearAt(beside.address)
      const id = await photo({ camel: 2 })
      await say([{ stillId: id, verdict: 'agreed' }])
      await far.until(new RegExp(`"stillIds":\\[${id}\\]`))
    } finally {
      await beside.stop()
    }
  })
  test('nobody of words that were refused', async () => {
    const page = await hearAt(service.address)
    problemOf(
      await service.send('POST', '/api/checks', { words: [{ stillId: 999_999, verdict: 'agreed' }] }),
      404,
    )
    const id = await photo({ camel: 2 })
    await say([{ stillId: id, verdict: 'agreed' }])
    await page.until(new RegExp(`"stillIds":\\[${id}\\]`))
    expect(page.said.match(/event: changed/g)).toHaveLength(1)
  })
  test('so many photos at once that they do not fit: something changed', async () => {
    const page = await hearAt(service.address)
    const id = await photo({ camel: 2 })
    service.house.news.publish(null)
    await page.until(/"stillIds":null/)
    expect((await stillNow(id)).checks).toEqual([])
  })
  test('no more than 200 pages; and one that goes makes room', async () => {
    const { news } = service.house
    const leave = Array.from({ length: 200 - news.hearers() }, () =>
      news.hear(
        () => undefined,
        () => undefined,
      ),
    )
    problemOf(await service.ask('/api/events'), 503)
    leave[0]!()
    expect((await hearAt(service.address)).status).toBe(200)
    for (const go of leave) go()
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) |^recount/.test(line))).toEqual([])
})
