/** A person's word on a photo: the latest stands, everything that counts follows at once, and nothing said is lost. */
import { randomBytes } from 'node:crypto'
import { sql } from 'kysely'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import {
  checkCardsAnswer,
  checksRecorded,
  nightsAnswer,
  type Still,
  stillAnswer,
  stillPage,
  visitPage,
  waterRunAnswer,
} from '../../services/http/shapes.ts'
import { parseInstant } from '../../services/station-time.ts'
import { receiveStills } from '../../services/store/receive.ts'
import { recountPoint } from '../../services/store/recount.ts'
import type { NightDate } from '../../services/words.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { openStationWithCamera, sendPhotos, setUpStation } from './station.ts'

const NIGHT = '2026-11-24'
let service: TestService
let camera: SetUpCamera
/** One visit of camels: three, one and one (services/demo/stills/truth.json); the eye may find two of the three. */
let most: Still
/** What the eye found in it. */
let head: number
let one: Still
let other: Still

beforeAll(async () => {
  ;({ service, camera } = await openStationWithCamera())
  await sendPhotos(service, camera, [
    ['galah-well-08.jpg', '2026-11-24T22:00:00+10:30'],
    ['kite-bore-09.jpg', '2026-11-24T22:10:00+10:30'],
    ['galah-well-09.jpg', '2026-11-24T22:20:00+10:30'],
  ])
  await service.waitUntilRead()
})
afterAll(() => service?.stop())

/** Every test begins with the camera's counts; the log of words grows, as it must. */
beforeEach(async () => {
  const { stills } = strictly(stillPage, await service.ask('/api/stills?state=done'))
  await say(stills.map(({ id }) => ({ stillId: id, verdict: 'withdrawn' })))
  const again = strictly(stillPage, await service.ask('/api/stills?state=done')).stills
  ;[other, one, most] = again as [Still, Still, Still]
  head = most.machineTally.camel ?? 0
})

const say = async (words: readonly object[], who = 'station') => {
  const answer = await service.send('POST', '/api/checks', { who, words })
  expect(answer.status, answer.bytes.toString()).toBe(201)
  return strictly(checksRecorded, answer)
}
const stillNow = async ({ id }: Still) => strictly(stillAnswer, await service.ask(`/api/stills/${id}`))
const visitsNow = async (species: string) =>
  strictly(visitPage, await service.ask(`/api/visits?species=${species}`)).visits
const rowNow = async () => strictly(waterRunAnswer, await service.ask('/api/water-run')).rows[0]!
const nightNow = async () => {
  const answer = await service.ask(`/api/points/${camera.pointId}/nights?from=${NIGHT}&to=${NIGHT}`)
  return strictly(nightsAnswer, answer).nights[0]!.species
}
const cardsNow = async () => strictly(checkCardsAnswer, await service.ask('/api/checks/cards'))

describe('what a word changes', () => {
  test('at first the camera’s counts stand: one visit, the most in one photo is its peak', async () => {
    expect(head).toBeGreaterThan(1)
    expect([most.tally, one.tally, other.tally]).toEqual([{ camel: head }, { camel: 1 }, { camel: 1 }])
    expect(await visitsNow('camel')).toMatchObject([
      { peak: head, photos: 3, bestStillId: most.id, role: 'feral' },
    ])
    expect(await rowNow()).toMatchObject({ toCheck: 3, feral: [{ species: 'camel', visits: 1, peak: head }] })
    expect(await cardsNow()).toMatchObject({
      waiting: 1,
      checked: 0,
      cards: [{ why: 'feral', checked: false }],
    })
  })
  test('agreed: the count stands as it was, and the photo no longer waits', async () => {
    const { checks, stills } = await say([{ stillId: most.id, verdict: 'agreed' }])
    expect(checks).toMatchObject([{ stillId: most.id, verdict: 'agreed', counts: { camel: head } }])
    expect(stills).toMatchObject([{ id: most.id, tally: { camel: head }, check: { verdict: 'agreed' } }])
    expect((await rowNow()).toCheck).toBe(2)
  })
  test('a card is checked once each of its photos is', async () => {
    await say([most, one].map(({ id }) => ({ stillId: id, verdict: 'agreed' })))
    expect(await cardsNow()).toMatchObject({ waiting: 1, checked: 0 })
    await say([{ stillId: other.id, verdict: 'agreed' }])
    expect(await cardsNow()).toMatchObject({ waiting: 0, checked: 1, cards: [{ checked: true }] })
  })
  test('corrected upward: photo, visit, night and water run follow, the camera count stays beside it', async () => {
    await say([{ stillId: one.id, verdict: 'corrected', counts: { camel: 5 } }])
    expect((await stillNow(one)).still).toMatchObject({ tally: { camel: 5 }, machineTally: { camel: 1 } })
    expect(await visitsNow('camel')).toMatchObject([{ peak: 5, photos: 3, bestStillId: one.id }])
    expect(await nightNow()).toMatchObject([{ species: 'camel', visits: 1, least: 5, sumOfPeaks: 5 }])
    expect(await rowNow()).toMatchObject({ feral: [{ species: 'camel', peak: 5, bestStillId: one.id }] })
  })
  test('corrected to another species: it leaves one visit and makes another; cattle were seen', async () => {
    await say([{ stillId: other.id, verdict: 'corrected', counts: { cattle: 2 } }])
    expect(await visitsNow('camel')).toMatchObject([{ photos: 2, endedAt: '2026-11-24T22:10:00+10:30' }])
    expect(await visitsNow('cattle')).toMatchObject([
      { peak: 2, photos: 1, role: 'stock', bestStillId: other.id },
    ])
    expect(await rowNow()).toMatchObject({
      cattle: { state: 'in', stillId: other.id, lastSeenAt: '2026-11-24T22:20:00+10:30' },
      feral: [{ species: 'camel', visits: 1 }],
    })
  })
  test('nothing there, on every photo: no visit, no night row, no feral row', async () => {
    await say([most, one, other].map(({ id }) => ({ stillId: id, verdict: 'corrected', counts: {} })))
    expect(await visitsNow('camel')).toEqual([])
    expect(await nightNow()).toEqual([])
    expect(await rowNow()).toMatchObject({ feral: [], toCheck: 0 })
  })
  test('nothing there in the middle of a visit does not cut it while the rest are within the gap', async () => {
    // 22:00 and 22:20 are 20 minutes apart, the gap is 30.
    await say([{ stillId: one.id, verdict: 'corrected', counts: { camel: 0 } }])
    expect((await stillNow(one)).still.tally).toEqual({})
    expect(await visitsNow('camel')).toMatchObject([{ photos: 2, peak: head }])
  })
  test('withdrawn: the camera count stands again', async () => {
    await say([{ stillId: one.id, verdict: 'corrected', counts: { camel: 9, goat: 4 } }])
    await say([{ stillId: one.id, verdict: 'withdrawn' }])
    expect((await stillNow(one)).still).toMatchObject({ tally: { camel: 1 }, check: null })
    expect(await visitsNow('camel')).toMatchObject([{ peak: head, photos: 3 }])
    expect(await visitsNow('goat')).toEqual([])
    expect((await rowNow()).toCheck).toBe(3)
  })
  test('a visit keeps its id while it lives, so that a link to it goes on working', async () => {
    const [before] = await visitsNow('camel')
    await say([{ stillId: most.id, verdict: 'corrected', counts: { camel: 7 } }])
    expect((await visitsNow('camel'))[0]?.id).toBe(before?.id)
  })
})

describe('what was said is kept', () => {
  test('the latest word stands, and the log holds all, latest first, each with who said it', async () => {
    const before = (await stillNow(one)).checks.length
    await say([{ stillId: one.id, verdict: 'agreed' }], 'Ash')
    await say([{ stillId: one.id, verdict: 'corrected', counts: { camel: 2 } }], 'Bee')
    const { still, checks } = await stillNow(one)
    expect(still.tally).toEqual({ camel: 2 })
    expect(checks.length).toBe(before + 2)
    expect(checks.slice(0, 2)).toMatchObject([
      { who: 'Bee', verdict: 'corrected', counts: { camel: 2 } },
      { who: 'Ash', verdict: 'agreed', counts: { camel: 1 } },
    ])
    expect(still.check?.id).toBe(checks[0]?.id)
  })
  test('two words on one photo in one request: the second stands', async () => {
    await say([
      { stillId: one.id, verdict: 'corrected', counts: { camel: 2 } },
      { stillId: one.id, verdict: 'corrected', counts: { camel: 4 } },
    ])
    expect((await stillNow(one)).still.tally).toEqual({ camel: 4 })
  })
  test('a later change of thresholds does not change what a person agreed to', async () => {
    await say([{ stillId: most.id, verdict: 'agreed' }])
    const strict = [{ species: 'camel', role: 'feral', countThreshold: 1, flagThreshold: 0.2 }]
    const counted = await service.house.ledger.selectFrom('species_settings').selectAll().execute()
    const camel = counted.find(({ species }) => species === 'camel')!
    await setUpStation(service, { species: strict })
    expect((await stillNow(most)).still).toMatchObject({ tally: { camel: head }, machineTally: {} })
    const asBefore = { countThreshold: camel.count_threshold, flagThreshold: camel.flag_threshold }
    await setUpStation(service, { species: [{ species: 'camel', role: 'feral', ...asBefore }] })
    await recountPoint(service.house.ledger, camera.pointId)
    expect((await stillNow(most)).still.machineTally).toEqual({ camel: head })
  })
  test('the log can be neither changed nor cut', async () => {
    await say([{ stillId: one.id, verdict: 'agreed' }])
    const { ledger } = service.house
    await expect(sql`update checks set who = 'nobody'`.execute(ledger)).rejects.toThrow('append-only')
    await expect(sql`delete from checks`.execute(ledger)).rejects.toThrow('append-only')
  })
  test('many hands at once: every word is in the log and the counts are those of the latest', async () => {
    const before = (await stillNow(most)).checks.length
    await Promise.all(
      [2, 3, 4, 5, 6, 7].map((camel) =>
        say([most, one, other].map(({ id }) => ({ stillId: id, verdict: 'corrected', counts: { camel } }))),
      ),
    )
    const { still, checks } = await stillNow(most)
    expect(checks.length).toBe(before + 6)
    expect(still.tally).toEqual(checks[0]?.counts)
    const standing = await Promise.all(
      [most, one, other].map(async (each) => (await stillNow(each)).still.tally.camel!),
    )
    expect((await visitsNow('camel'))[0]?.peak).toBe(Math.max(...standing))
  })
  test('what is kept up to date by each word equals a recount from nothing', async () => {
    await say([
      { stillId: most.id, verdict: 'corrected', counts: { camel: 2, cattle: 1 } },
      { stillId: other.id, verdict: 'corrected', counts: {} },
    ])
    const kept = async () => ({
      nights: await nightNow(),
      visits: [...(await visitsNow('camel')), ...(await visitsNow('cattle'))].map(
        ({ id: _, ...visit }) => visit,
      ),
      row: await rowNow(),
    })
    const before = await kept()
    await recountPoint(service.house.ledger, camera.pointId)
    expect(await kept()).toEqual(before)
  })
})

describe('words that are refused are refused whole', () => {
  const refused = async (words: readonly object[], status: number) =>
    problemOf(await service.send('POST', '/api/checks', { words }), status)

  test('one photo that has not been read yet: none of the words is taken', async () => {
    const waiting = await aPhotoThatWaits()
    const before = (await stillNow(one)).checks.length
    const words = [
      { stillId: one.id, verdict: 'corrected', counts: { camel: 8 } },
      { stillId: waiting, verdict: 'agreed' },
    ]
    expect(await refused(words, 409)).toMatchObject({
      field: 'words.1.stillId',
      detail: expect.stringContaining('has not been looked at yet'),
    })
    const { still, checks } = await stillNow(one)
    expect([still.tally, checks.length]).toEqual([{ camel: 1 }, before])
  })
  test('one that cannot be read says so', async () => {
    const answer = await service.post('/api/stills', camera, Buffer.from('no photo'))
    const { stills } = answer.json as { stills: [{ id: number }] }
    const problem = await refused([{ stillId: stills[0].id, verdict: 'agreed' }], 409)
    expect(problem.detail).toContain('could not be read')
  })
  test('one that is not here', async () => {
    const words = [
      { stillId: one.id, verdict: 'agreed' },
      { stillId: 999_999, verdict: 'agreed' },
    ]
    expect(await refused(words, 404)).toMatchObject({ field: 'words.1.stillId' })
    expect((await stillNow(one)).still.check).toBeNull()
  })
  test.each([
    ['no word', [], 'words'],
    [
      'a count of minus one',
      [{ stillId: 1, verdict: 'corrected', counts: { camel: -1 } }],
      'words.0.counts.camel',
    ],
    ['half a camel', [{ stillId: 1, verdict: 'corrected', counts: { camel: 0.5 } }], 'words.0.counts.camel'],
    [
      'more than 999',
      [{ stillId: 1, verdict: 'corrected', counts: { camel: 1000 } }],
      'words.0.counts.camel',
    ],
    [
      'a species that is none',
      [{ stillId: 1, verdict: 'corrected', counts: { emu: 1 } }],
      'words.0.counts.emu',
    ],
    ['a correction without counts', [{ stillId: 1, verdict: 'corrected' }], 'words.0.counts'],
    ['a verdict that is none', [{ stillId: 1, verdict: 'perhaps' }], 'words.0.verdict'],
  ])('%s', async (_what, words, field) => {
    expect(await refused(words, 400)).toMatchObject({ field })
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) |^recount/.test(line))).toEqual([])
})

/** In the ledger, and nobody has told the queue. */
async function aPhotoThatWaits(): Promise<number> {
  const at = parseInstant('2026-11-23T10:00:00Z')
  const [still] = await receiveStills(service.house.ledger, [
    {
      cameraId: camera.id,
      pointId: camera.pointId,
      hash: randomBytes(32),
      bytes: 1,
      format: 'jpeg',
      width: 960,
      height: 540,
      fileName: null,
      takenAt: at,
      takenFrom: 'sender',
      clockDoubt: null,
      night: '2026-11-23' as NightDate,
      receivedAt: at,
      unreadableReason: null,
    },
  ])
  return still!.id
}
