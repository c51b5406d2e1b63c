/** At the yard over the API: said once, corrected, exported; a set trap that nobody visits; jobs until they are done. */
import { randomUUID } from 'node:crypto'
import { parse as parseCsv } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { pointAnswer, type WaterRunRow, waterRunAnswer } from '../../services/http/shapes.ts'
import {
  jobAnswer,
  jobsAnswer,
  outcomesAnswer,
  saidAnswer,
  trapHoursAnswer,
  trapLogAnswer,
  yardSheetAnswer,
} from '../../services/http/yard-shapes.ts'
import { MORNING, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { addProgram, taken, trapWord } from './yard-entries.ts'

let service: TestService
let wren: SetUpCamera
let swift: SetUpCamera
let programId: number

beforeAll(async () => {
  service = await openStation()
  wren = await addPointWithCamera(service, { name: 'Wren Bore', hasYard: true })
  swift = await addPointWithCamera(service, { name: 'Swift Tank' })
  programId = await addProgram(service)
})
afterAll(() => service?.stop())

const tellOutcomes = (words: readonly object[], who = 'Ash') =>
  service.send('POST', '/api/outcomes', { who, words })
const tellTrap = (words: readonly object[], who = 'Ash') =>
  service.send('POST', '/api/trap-log', { who, words })
const outcomes = async (query: string) =>
  strictly(outcomesAnswer, await service.ask(`/api/outcomes?${query}`))
const rowOf = async (pointId: number): Promise<WaterRunRow> =>
  strictly(waterRunAnswer, await service.ask('/api/water-run')).rows.find(
    ({ point }) => point.id === pointId,
  )!

describe('head taken', () => {
  test('a phone that heard no answer sends again, and it is said once', async () => {
    const word = taken(wren.pointId, { programId, day: '2026-11-20' })
    for (let turn = 0; turn < 3; turn++) {
      const answer = await tellOutcomes([word])
      expect(answer.status).toBe(201)
      expect(strictly(saidAnswer, answer).said).toEqual([word.id])
    }
    const { outcomes: all, sums } = await outcomes('from=2026-11-20&to=2026-11-20')
    expect(all).toHaveLength(1)
    expect(sums).toEqual([{ species: 'camel', fate: 'trucked', head: 7 }])
  })

  test('a correction stands in the place of the first, which is still told', async () => {
    const first = taken(wren.pointId, { day: '2026-11-21', paper: 'WB-17' })
    const second = taken(wren.pointId, { day: '2026-11-21', head: 5, withdraws: first.id })
    await tellOutcomes([first])
    await tellOutcomes([second], 'Robin')
    const { outcomes: all, sums } = await outcomes('from=2026-11-21&to=2026-11-21')
    expect(sums).toEqual([{ species: 'camel', fate: 'trucked', head: 5 }])
    expect(all.find(({ id }) => id === first.id)).toMatchObject({
      head: 7,
      paper: 'WB-17',
      takenBack: { by: second.id, who: 'Robin', corrected: true, at: MORNING },
    })
    const again = await tellOutcomes([taken(wren.pointId, { day: '2026-11-21', withdraws: first.id })])
    expect(problemOf(again, 409).field).toBe('words.0.withdraws')
  })

  test('a slip is refused at its field: a day to come, less than none, no such point, no such program', async () => {
    const field = async (said: object, status = 400) =>
      problemOf(await tellOutcomes([taken(wren.pointId, said)]), status).field
    expect(await field({ day: '2026-11-26' })).toBe('words.0.day')
    expect(await field({ head: -1 })).toBe('words.0.head')
    expect(await field({ money: 100 })).toBe('words.0.money')
    await field({ pointId: 4_000 }, 404)
    await field({ programId: 4_000 }, 404)
  })

  test('the program’s own outcomes are those told to it', async () => {
    const answer = await service.ask(`/api/programs/${programId}/outcomes`)
    expect(strictly(outcomesAnswer, answer).outcomes.map(({ day }) => day)).toEqual(['2026-11-20'])
  })

  test('CSV as another reader reads it, with nasty words kept and formulas made harmless', async () => {
    const note = '=HYPERLINK("x")\r\nsays "go", אבג 🐪'
    const word = taken(swift.pointId, { note, carrier: 'A, B & Sons' })
    await tellOutcomes([word, { kind: 'withdrawn', id: randomUUID(), withdraws: word.id }])
    const read = async (which: string) => {
      const { bytes } = await service.ask(`/api/outcomes.csv?point=${swift.pointId}&which=${which}`)
      return parseCsv(bytes, { columns: true }) as Record<string, string>[]
    }
    expect(await read('standing')).toEqual([])
    expect(await read('all')).toMatchObject([
      { head: '7', word: 'taken back', note: `'${note}`, carrier: 'A, B & Sons', effort: '' },
    ])
  })
})

describe('a set trap', () => {
  test('is an alarm once nobody was there in its time, though its camera is down', async () => {
    service.setClock('2026-11-26T08:00:00+10:30')
    await tellTrap([trapWord(wren.pointId, 'trap set', '2026-11-26T07:30:00+10:30')])
    expect((await rowOf(wren.pointId)).trap).toMatchObject({
      state: 'set',
      dueBy: '2026-11-27T07:30:00+10:30',
      overdue: false,
    })
    service.setClock('2026-11-27T07:29:00+10:30')
    await service.tell('/api/heartbeats', wren, { at: '2026-11-26T08:00:00+10:30' })
    service.passHours(10)
    const row = await rowOf(wren.pointId)
    expect(row.camera).toBe('down')
    expect(row.trap).toMatchObject({ overdue: true, held: null })
  })

  test('is not visited by a look through its camera', async () => {
    await service.tell('/api/heartbeats', wren, {})
    const row = await rowOf(wren.pointId)
    expect(row.camera).toBe('watching')
    expect(row.trap?.overdue).toBe(true)
  })

  test('is in time again after a visit, and tells what it holds', async () => {
    await tellTrap(
      [
        trapWord(wren.pointId, 'visited', '2026-11-27T17:20:00+10:30', {
          held: 14,
          heldSince: '2026-11-27T02:00:00+10:30',
          species: 'camel',
          class: 'cows and young',
        }),
      ],
      'Robin',
    )
    const held = { head: 14, species: 'camel', class: 'cows and young', since: '2026-11-27T02:00:00+10:30' }
    expect((await rowOf(wren.pointId)).trap).toMatchObject({ overdue: false, visitedBy: 'Robin', held })
    const { row } = strictly(pointAnswer, await service.ask(`/api/points/${wren.pointId}`))
    expect(row.trap?.held).toEqual(held)
  })

  test('is visited sooner where the owner says so, and never later than the station says', async () => {
    const put = (path: string, hours: number | null) => service.send('PUT', path, { hours })
    problemOf(await put('/api/trap-hours', 25), 400)
    await put(`/api/points/${wren.pointId}/trap-hours`, 12)
    expect((await rowOf(wren.pointId)).trap).toMatchObject({
      visitHours: 12,
      dueBy: '2026-11-28T05:20:00+10:30',
    })
    const answer = await put('/api/trap-hours', 8)
    expect(strictly(trapHoursAnswer, answer)).toEqual({
      stationHours: 8,
      points: [{ pointId: wren.pointId, hours: 12 }],
    })
    expect((await rowOf(wren.pointId)).trap?.visitHours).toBe(8)
    await put(`/api/points/${wren.pointId}/trap-hours`, null)
    await put('/api/trap-hours', 24)
    expect((await rowOf(wren.pointId)).trap?.visitHours).toBe(24)
  })

  test('stands on the yard sheet, what is due first on top, open ones after', async () => {
    await service.send('POST', `/api/points/${swift.pointId}/states`, { kind: 'trap open' })
    const { traps, station } = strictly(yardSheetAnswer, await service.ask('/api/yard-sheet'))
    expect(station).not.toBe('')
    expect(traps.map(({ pointName, trap }) => [pointName, trap.state])).toEqual([
      ['Wren Bore', 'set'],
      ['Swift Tank', 'open'],
    ])
  })

  test('a word dated by a phone’s clock some minutes ahead holds at once; one of tomorrow is refused', async () => {
    await tellTrap([trapWord(swift.pointId, 'trap set', '2026-11-27T17:33:00+10:30')])
    expect((await rowOf(swift.pointId)).trap?.state).toBe('set')
    const answer = await tellTrap([trapWord(swift.pointId, 'visited', '2026-11-28T17:00:00+10:30')])
    expect(problemOf(answer, 400).field).toBe('words.0.at')
  })

  test('what a tap on the point’s page said stands in the log, and a word taken back is gone from both', async () => {
    const log = async () =>
      strictly(trapLogAnswer, await service.ask(`/api/points/${swift.pointId}/trap-log`))
    const { trap, log: before } = await log()
    expect(trap?.state).toBe('set')
    expect(before.map(({ kind, who }) => [kind, who])).toEqual([
      ['trap set', 'Ash'],
      ['trap open', 'station'],
    ])
    await tellTrap([{ kind: 'withdrawn', id: randomUUID(), withdraws: before[0]!.id }])
    expect((await log()).trap?.state).toBe('open')
    const { states } = strictly(pointAnswer, await service.ask(`/api/points/${swift.pointId}`))
    expect(states.map(({ kind }) => kind)).toEqual(['trap open'])
    const { bytes } = await service.ask(
      `/api/trap-log.csv?point=${swift.pointId}&from=2026-11-27&to=2026-11-27`,
    )
    expect(parseCsv(bytes, { columns: true })).toMatchObject([{ what: 'trap open', word: 'stands' }])
  })
})

describe('a job', () => {
  const open = async () => strictly(jobsAnswer, await service.ask('/api/jobs')).jobs
  const say = (jobId: string, said: object) =>
    service.send('POST', `/api/jobs/${jobId}/words`, { id: randomUUID(), who: 'Robin', ...said })

  test('is listed until somebody has done it, and its history stays', async () => {
    const job = {
      id: randomUUID(),
      pointId: wren.pointId,
      trouble: 'trough leak',
      who: 'Ash',
      person: 'Robin',
    }
    await service.send('POST', '/api/jobs', job)
    const answer = await service.send('POST', '/api/jobs', job)
    expect(answer.status).toBe(201)
    expect(await open()).toMatchObject([{ id: job.id, person: 'Robin', askedBy: 'Ash', open: true }])
    await say(job.id, { word: 'handed on', person: 'Casey', note: 'needs the welder' })
    expect(await open()).toMatchObject([{ person: 'Casey' }])
    const done = strictly(jobAnswer, await say(job.id, { word: 'done', who: 'Casey' })).job
    expect(done).toMatchObject({ open: false, ended: { word: 'done', who: 'Casey' } })
    expect(done.words.map(({ word }) => word)).toEqual(['asked for', 'handed on', 'done'])
    expect(await open()).toEqual([])
    const again = strictly(jobAnswer, await say(job.id, { word: 'open again' })).job
    expect(again).toMatchObject({ open: true, ended: null })
    await say(job.id, { word: 'not needed' })
    const all = strictly(jobsAnswer, await service.ask('/api/jobs?which=all')).jobs
    expect(all).toMatchObject([{ id: job.id, open: false }])
  })

  test('is asked for from a photo or at a point, and says what the trouble is', async () => {
    const ask = (job: object) =>
      service.send('POST', '/api/jobs', { id: randomUUID(), trouble: 'float', ...job })
    expect(problemOf(await ask({}), 400).field).toBe('pointId')
    expect(problemOf(await ask({ pointId: wren.pointId, trouble: 'other' }), 400).field).toBe('note')
    expect(problemOf(await ask({ stillId: 4_000 }), 404).field).toBe('stillId')
    expect(problemOf(await say(randomUUID(), { word: 'done' }), 404).field).toBe('id')
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) /.test(line))).toEqual([])
})
