/** Blind looks and evidence over the doors: blind before the word, told after it, and every answer by its shape. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { auditsAnswer, lookRecorded, openLooksAnswer } from '../../services/http/audit-shapes.ts'
import { evidenceAnswer, marksAnswer, modelEvidenceAnswer } from '../../services/http/evidence-shapes.ts'
import { drawWeek } from '../../services/store/audits.ts'
import { weekOf } from '../../services/tally/weeks.ts'
import type { NightDate } from '../../services/words.ts'
import { problemOf, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation, sendPhotos } from './station.ts'

const WEEK = weekOf('2026-11-16' as NightDate)

let service: TestService
beforeAll(async () => {
  service = await openStation()
  const wren = await addPointWithCamera(service, { name: 'Wren Bore' })
  // A photo an hour: what is in each source stands in services/demo/stills/truth.json.
  await sendPhotos(service, wren, [
    ['galah-well-00.jpg', '2026-11-17T08:00:00+10:30'],
    ['galah-well-06.jpg', '2026-11-17T10:00:00+10:30'],
    ['galah-well-04.jpg', '2026-11-18T08:00:00+10:30'],
    ['galah-well-01.jpg', '2026-11-18T21:00:00+10:30'],
    ['kite-bore-09.jpg', '2026-11-19T08:00:00+10:30'],
  ])
  await service.waitUntilRead()
  await drawWeek(service.house.ledger, { week: WEEK, now: service.house.now(), seed: 'a seed' })
})
afterAll(() => service?.stop())

const openLooks = async () => strictly(openLooksAnswer, await service.ask('/api/audits/looks?limit=20'))
const say = (id: number, body: object) => service.send('POST', `/api/audits/looks/${id}`, body)

test('before a word nothing is told of what the machine said, nor on which side a look was drawn', async () => {
  const answer = await service.ask('/api/audits/looks?limit=20')
  const { open, looks } = strictly(openLooksAnswer, answer)
  expect([open, looks.length]).toEqual([5, 5])
  expect(answer.bytes.toString()).not.toMatch(/box|tally|score|flagged|species|stratum|chance|machine/i)
})

describe('a word on a look', () => {
  test('is answered by what the machine had found, and the look is asked for no more', async () => {
    const { looks } = await openLooks()
    const [look] = looks
    const words = look!.photos.map(({ id }) => ({ stillId: id, counts: { donkey: 7 } }))
    const answer = await say(look!.id, { who: 'Ash', words })
    expect(answer.status).toBe(201)
    const told = strictly(lookRecorded, answer)
    expect(told.said).toEqual(look!.photos.map(() => ({ donkey: 7 })))
    expect(told.stills.map(({ tally }) => tally)).toEqual(told.said)
    expect(told.stills[0]?.check).toMatchObject({ who: 'Ash', verdict: 'corrected' })
    expect((await openLooks()).looks.map(({ id }) => id)).not.toContain(look!.id)
    // Taken back, it is asked for again.
    const back = look!.photos.map(({ id }) => ({ stillId: id, counts: null }))
    expect(strictly(lookRecorded, await say(look!.id, { words: back })).said).toEqual([null])
    expect((await openLooks()).looks.map(({ id }) => id)).toContain(look!.id)
  })

  test('on part of it, on a photo that is not of it, or on no look is refused', async () => {
    const [one, other] = (await openLooks()).looks
    const wrong = [{ stillId: other!.photos[0]!.id, counts: {} }]
    expect(problemOf(await say(one!.id, { words: wrong }), 400).field).toBe('words')
    problemOf(await say(999_999, { words: wrong }), 404)
    problemOf(await say(one!.id, { words: [] }), 400)
    problemOf(await say(one!.id, { words: [{ stillId: one!.photos[0]!.id, counts: { wombat: 1 } }] }), 400)
    expect((await openLooks()).open).toBe(5)
  })
})

test('the looks drawn a week are the owner’s to set', async () => {
  expect((await service.send('PUT', '/api/audits', { looksAWeek: 7 })).json).toEqual({ looksAWeek: 7 })
  const audits = strictly(auditsAnswer, await service.ask('/api/audits'))
  expect(audits).toMatchObject({
    looksAWeek: 7,
    next: { from: '2026-11-23', to: '2026-11-29', drawnFrom: '2026-11-30T12:00:00+10:30' },
    audits: [{ from: WEEK.from, to: WEEK.to, seed: 'a seed', looks: 5, lookedAt: 0, couldNotBeDrawn: 0 }],
  })
  problemOf(await service.send('PUT', '/api/audits', { looksAWeek: 201 }), 400)
})

describe('once all is looked at', () => {
  beforeAll(async () => {
    for (const look of (await openLooks()).looks) {
      const words = look.photos.map(({ id }) => ({ stillId: id, counts: { camel: 1 } }))
      expect((await say(look.id, { words })).status).toBe(201)
    }
  })

  test('shares and counts are told by their shape', async () => {
    const evidence = strictly(evidenceAnswer, await service.ask('/api/evidence'))
    expect(evidence.weeks).toEqual([{ from: WEEK.from, to: WEEK.to, looks: 5, lookedAt: 5 }])
    expect(evidence.versions).toBe(1)
    // The rule of none found (lookedAtForUpperLimit): 1 - 0.025^(1/368) is under 0.01.
    expect(evidence.noneFoundUnderOnePercent).toBe(368)
    expect(evidence.counts[0]?.species.find(({ species }) => species === 'camel')?.visits.corrected).toEqual({
      kind: 'corrected',
      total: 5,
      low: 5,
      high: 5,
    })
    problemOf(await service.ask('/api/evidence?weeks=0'), 400)
  })

  test('the models are told with their card beside them', async () => {
    const { models } = strictly(modelEvidenceAnswer, await service.ask('/api/evidence/models'))
    expect(models).toMatchObject([{ present: true, photos: 5, blind: 5 }])
    expect(models[0]?.card?.length).toBeGreaterThan(0)
    expect(models[0]?.byLight.length).toBeGreaterThan(0)
  })

  test('marks are told from the looks, with what they would make of the week before', async () => {
    const marks = strictly(marksAnswer, await service.ask('/api/evidence/marks?species=camel'))
    expect(marks).toMatchObject({ from: 'looks', photos: 5, there: 5, week: WEEK })
    const now = marks.steps.find(({ mark }) => mark === marks.flagThreshold)
    const flagged = await service.house.ledger
      .selectFrom('stills')
      .select('id')
      .where('flagged', '=', true)
      .execute()
    expect(now?.toLookAt).toBe(flagged.length)
    problemOf(await service.ask('/api/evidence/marks'), 400)
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) /.test(line))).toEqual([])
})
