/** Counts from notebooks, in at the doors and out again, beside photos and never among them. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  pastCountFileAnswer,
  pastCountFilesAnswer,
  pastCountsAnswer,
  pastCountsComparedAnswer,
} from '../../services/http/past-count-shapes.ts'
import { waterRunAnswer } from '../../services/http/shapes.ts'
import { parseInstant } from '../../services/station-time.ts'
import type { Tally } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { type Answer, problemOf, strictly, type TestService } from './service.ts'
import { receive, record, type SmallStation } from './small-station.ts'
import { addPointWithCamera, openStation } from './station.ts'

/** Wednesday after the week 2026-W47, whose five weeks begin on 2026-10-19; a year before on 2025-10-20. */
const NOW = '2026-11-25T10:00:00+10:30'
const WEEK = '2026-W47'

let service: TestService
let kite: number
let galah: number

beforeAll(async () => {
  service = await openStation()
  service.setClock(NOW)
  const watching = { sendsHeartbeats: false, expectedSilenceHours: 300, since: '2026-10-19T12:00:00+10:30' }
  const camera = await addPointWithCamera(service, { name: 'Kite Bore' }, watching)
  kite = camera.pointId
  galah = (await addPointWithCamera(service, { name: 'Galah Well' })).pointId
  const station = { ledger: service.house.ledger, pointId: kite, cameraIds: [camera.id, camera.id] } as const
  await photos(station as unknown as SmallStation, [
    ['2026-10-20T20:00:00+10:30', { camel: 4 }],
    ['2026-10-28T20:00:00+10:30', { camel: 9 }],
    ['2026-10-28T23:00:00+10:30', { camel: 2 }],
    ['2026-11-22T13:00:00+10:30', { cattle: 3 }],
  ])
})
afterAll(() => service?.stop())

async function photos(station: SmallStation, list: ReadonlyArray<readonly [at: string, tally: Tally]>) {
  for (const [at, tally] of list) {
    const still = { name: at, cameraId: station.cameraIds[0], at: parseInstant(at) }
    await record(station, await receive(station, still), tally)
  }
}

const put = (text: string, query = '') =>
  service.ask(`/api/past-counts${query}`, {
    method: 'POST',
    headers: { 'Content-Type': 'text/csv' },
    body: text,
  })
const csv = (...rows: readonly string[]) => ['point,night,species,head,visits,watched', ...rows].join('\n')
const taken = (answer: Answer) => strictly(pastCountFileAnswer, answer)
const filesNow = async () => strictly(pastCountFilesAnswer, await service.ask('/api/past-counts')).files
const countsAt = async (pointId: number) =>
  strictly(pastCountsAnswer, await service.ask(`/api/points/${pointId}/past-counts`)).counts
const compared = async (week = WEEK) =>
  strictly(pastCountsComparedAnswer, await service.ask(`/api/past-counts/compared?week=${week}`))

const LAST_YEAR = csv(
  'Kite Bore,2025-10-20,camel,12,3,1',
  'Kite Bore,2025-10-21,camel,0,0,1',
  'Kite Bore,2025-10-22,camel,8,2,0.5',
  'Kite Bore,2025-10-22,cattle,5,,0.5',
  'Galah Well,2025-11-01,donkey,2,,',
)

describe('a notebook’s file', () => {
  test('before there is one, nothing is compared', async () => {
    expect(await compared()).toMatchObject({ notebook: null, rows: [] })
  })
  test('is taken whole', async () => {
    const answer = await put(LAST_YEAR, '?name=Pat%202025.csv&who=Pat')
    expect(answer.status).toBe(201)
    expect(taken(answer)).toMatchObject({
      known: false,
      file: {
        ...{ name: 'Pat 2025.csv', who: 'Pat', counts: 5, points: 2 },
        ...{ firstNight: '2025-10-20', lastNight: '2025-11-01', withdrawnAt: null },
      },
    })
    expect(await countsAt(kite)).toHaveLength(4)
    expect((await countsAt(galah))[0]).toEqual({
      ...{ night: '2025-11-01', species: 'donkey', role: 'feral', head: 2 },
      ...{ visits: null, watched: null, note: null, file: 'Pat 2025.csv' },
    })
  })
  test('comes twice and is one', async () => {
    const answer = await put(LAST_YEAR, '?name=again.csv')
    expect(answer.status).toBe(200)
    expect(taken(answer)).toMatchObject({ known: true, file: { name: 'Pat 2025.csv' } })
    expect(await filesNow()).toHaveLength(1)
  })
  test('with one bad row is not taken at all', async () => {
    const problem = problemOf(
      await put(csv('Kite Bore,2025-12-01,camel,3,,', 'Kite Bore,2025-12-02,camel,three,,')),
      400,
    )
    expect(problem.field).toBe('row 2.head')
    expect(await countsAt(kite)).toHaveLength(4)
  })
  test('that tells of a night of another file is refused by its row, and nothing is overwritten', async () => {
    const problem = problemOf(
      await put(csv('Kite Bore,2025-12-01,camel,3,,', 'Kite Bore,2025-10-20,camel,90,,')),
      409,
    )
    expect(problem.field).toBe('row 2.night')
    expect(problem.detail).toContain('Pat 2025.csv')
    expect((await countsAt(kite)).map(({ head }) => head)).not.toContain(90)
    expect(await filesNow()).toHaveLength(1)
  })
  test('of several at once that tell of the same night one is taken', async () => {
    const answers = await Promise.all(
      [1, 2, 3].map((head) => put(csv(`Galah Well,2025-12-24,goat,${head},,`))),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409])
  })
  test('as JSON is refused', async () => {
    expect(problemOf(await service.send('POST', '/api/past-counts', {}), 400).field).toBe('Content-Type')
  })
})

describe('beside what cameras count', () => {
  const rowOf = async (pointId: number, species: string, week = WEEK) =>
    (await compared(week)).rows.find((row) => row.pointId === pointId && row.species === species)
  test('the same weeks of the year before', async () => {
    expect(await compared()).toMatchObject({
      cameras: { from: '2026-10-19', to: '2026-11-22' },
      notebook: { from: '2025-10-20', to: '2025-11-23', yearsBack: 1, files: ['Pat 2025.csv'] },
    })
  })
  test('each side has its own nights and its own numbers', async () => {
    const camel = await rowOf(kite, 'camel')
    expect(camel?.notebook).toEqual({
      ...{ nights: 3, nightsSeen: 2, most: 12, headANight: 6.667, headNights: 3 },
      ...{ visits: 5, watchedNights: 2.5 },
    })
    // Nights of 2026-10-20 and -28, of all that were watched from the first photo to the last.
    const nights = camel!.cameras.headNights
    expect(nights).toBeGreaterThanOrEqual(30)
    expect(camel?.cameras).toMatchObject({ most: 9, visits: 3 })
    expect(camel?.cameras.headANight).toBeCloseTo((4 + 9) / nights, 3)
  })
  test('a change is told only where the notebook tells how often and how long', async () => {
    expect((await rowOf(kite, 'camel'))?.change).not.toBeNull()
    expect((await rowOf(kite, 'cattle'))?.change).toBeNull()
    expect((await rowOf(galah, 'donkey'))?.change).toBeNull()
  })
  test('without the same weeks it is the last of the notebook, and says so', async () => {
    const { notebook } = await compared('2026-W10')
    expect(notebook).toMatchObject({ yearsBack: null, to: '2025-12-24' })
  })
})

describe('never among what cameras count', () => {
  test('kept counts are those of a count from nothing, and hold no night of a notebook', async () => {
    const kept = await keptAggregates(service.house.ledger)
    expect(kept).toEqual(await recountFromNothing(service.house.ledger))
    const { rows } = (await service.ask('/api/pressure?week=2025-W43')).json as { rows: readonly unknown[] }
    expect(rows).toEqual([])
    const run = strictly(waterRunAnswer, await service.ask('/api/water-run?night=2025-10-20'))
    expect(JSON.stringify(run)).not.toContain('"camel"')
  })
})

describe('withdrawn', () => {
  test('it is shown nowhere, stays in the list, and may come again', async () => {
    const [first] = (await filesNow()).filter(({ name }) => name === 'Pat 2025.csv')
    const gone = await service.ask(`/api/past-counts/${first!.id}?who=Pat`, { method: 'DELETE' })
    expect(strictly(pastCountFilesAnswer, gone).files.find(({ id }) => id === first!.id)).toMatchObject({
      withdrawnBy: 'Pat',
    })
    expect(await countsAt(kite)).toEqual([])
    problemOf(await service.ask(`/api/past-counts/${first!.id}`, { method: 'DELETE' }), 404)
    expect((await put(LAST_YEAR, '?name=Pat%20again.csv')).status).toBe(201)
    expect(await countsAt(kite)).toHaveLength(4)
  })
})
