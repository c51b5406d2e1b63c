/** The doors of trap yards: what is refused, in which words, and that nothing said is lost. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  keptPlanShape,
  trapYardsAnswer,
  yardPlanAnswer,
  yardPlansAnswer,
} from '../../services/http/trap-yard-shapes.ts'
import { problemOf, strictly, type TestService } from './service.ts'
import { addPoint, openStation } from './station.ts'

let service: TestService
let wren: number
let swift: number

beforeAll(async () => {
  service = await openStation()
  wren = await addPoint(service, { name: 'Wren Bore', hasYard: true })
  swift = await addPoint(service, { name: 'Swift Tank', lat: -28.06 })
})
afterAll(() => service?.stop())

const other = (body: object) => service.send('POST', '/api/trap-yards/other-water', body)
const plan = (change: object = {}) => ({
  name: 'Before the wet',
  species: 'camel',
  pointIds: [wren],
  fromNight: '2026-12-01',
  nights: 7,
  hours: { from: 20, to: 4.5 },
  ...change,
})

describe('other water', () => {
  test('that is sure has to be somewhere', async () => {
    expect(problemOf(await other({ pointIds: [wren], isSure: true }), 400)).toMatchObject({
      field: 'openPointIds',
      detail: expect.stringContaining('says no other water'),
    })
  })
  test('of a point is not the point itself', async () => {
    const answer = await other({ pointIds: [wren, swift], isSure: true, openPointIds: [swift] })
    expect(problemOf(answer, 400).detail).toContain('not its own other water')
  })
  test('of a point that is none is not found', async () => {
    problemOf(await other({ pointIds: [wren], isSure: true, openPointIds: [99] }), 404)
  })
})

describe('a plan', () => {
  test('that closes a water without other water being sure is refused, and says what to do', async () => {
    const answer = await service.send('POST', '/api/trap-yards/plans', plan())
    expect(problemOf(answer, 409)).toMatchObject({
      field: 'pointIds',
      detail: expect.stringContaining('nobody has confirmed other water'),
      remedy: expect.stringContaining('Wren Bore'),
    })
    expect(strictly(yardPlansAnswer, await service.ask('/api/trap-yards/plans')).plans).toEqual([])
  })

  test('that would close the other water as well is refused', async () => {
    await other({ pointIds: [wren], isSure: true, openPointIds: [swift] })
    await other({ pointIds: [swift], isSure: true, elsewhere: 'the creek' })
    const answer = await service.send('POST', '/api/trap-yards/plans', plan({ pointIds: [wren, swift] }))
    expect(problemOf(answer, 409).detail).toContain('its other water would be closed as well')
  })

  test('is kept, changed from its last version only, withdrawn, and still there', async () => {
    const made = await service.send('POST', '/api/trap-yards/plans', plan())
    expect(made.status).toBe(201)
    const { planId } = strictly(keptPlanShape, made)
    const path = `/api/trap-yards/plans/${planId}`
    const changed = await service.send('PUT', path, { ...plan({ nights: 9 }), version: 1, who: 'Kim' })
    expect(strictly(keptPlanShape, changed)).toMatchObject({ version: 2, who: 'Kim', plan: { nights: 9 } })
    expect(problemOf(await service.send('PUT', path, { ...plan(), version: 1 }), 409)).toMatchObject({
      field: 'version',
      detail: expect.stringContaining('changed by Kim'),
    })
    await service.send('DELETE', path, { version: 2 })
    expect(strictly(yardPlansAnswer, await service.ask('/api/trap-yards/plans')).plans).toEqual([])
    const { versions } = strictly(yardPlanAnswer, await service.ask(path))
    expect(versions.map(({ version, withdrawn }) => [version, withdrawn])).toEqual([
      [3, true],
      [2, false],
      [1, false],
    ])
    expect(problemOf(await service.send('DELETE', path, { version: 3 }), 409).detail).toContain('withdrawn')
  })

  test('of another number is not found', async () => {
    problemOf(await service.ask('/api/trap-yards/plans/99'), 404)
    problemOf(await service.send('PUT', '/api/trap-yards/plans/99', { ...plan(), version: 1 }), 404)
  })
})

describe('what a proposal goes by', () => {
  test.each([
    ['PUT', '/api/trap-yards/means', { portableYards: -1 }, 'portableYards'],
    ['PUT', '/api/trap-yards/means', { nightsSet: 0 }, 'nightsSet'],
    ['PUT', '/api/trap-yards/ranges', { species: 'camel', range: { km: 0, source: 'x' } }, 'range.km'],
    ['POST', '/api/trap-yards/first-used', { pointId: 1, species: 'camel', on: 'May' }, 'on'],
    ['POST', '/api/trap-yards/plans', { name: '', species: 'camel' }, 'name'],
  ])('%s %s %o is refused at its field', async (method, path, body, field) => {
    expect(problemOf(await service.send(method, path, body), 400).field).toBe(field)
  })

  test.each([
    ['/api/trap-yards/try?species=camel&points=99', 404, 'points'],
    ['/api/trap-yards/try?species=camel&points=', 400, 'points.0'],
    ['/api/trap-yards/hours?species=camel&points=1&from=20', 400, 'to'],
    ['/api/trap-yards/hours?species=camel&points=1&from=20.2&to=4', 400, 'from'],
    ['/api/trap-yards/hours?species=camel&points=1&cattleShare=2', 400, 'cattleShare'],
  ])('%s is refused', async (path, status, field) => {
    expect(problemOf(await service.ask(path), status).field).toBe(field)
  })

  test('is the owner’s until it is taken back, and says where it was found', async () => {
    const said = { species: 'donkey', range: { km: 14, source: 'collars' } }
    const own = strictly(trapYardsAnswer, await service.send('PUT', '/api/trap-yards/ranges', said))
    expect(own.range).toEqual({ species: 'donkey', km: 14, source: 'collars', fromMemory: false, own: true })
    const back = await service.send('PUT', '/api/trap-yards/ranges', { species: 'donkey', range: null })
    expect(strictly(trapYardsAnswer, back).range).toMatchObject({ fromMemory: true, own: false })
  })
})

test('head that was taken in these nights is told, those let go are not', async () => {
  const taken = (id: string, change: object) => ({
    id: `00000000-0000-4000-8000-0000000000${id}`,
    pointId: wren,
    species: 'camel',
    day: '2026-11-20',
    method: 'trap yard',
    head: 5,
    fate: 'trucked',
    ...change,
  })
  const answer = await service.send('POST', '/api/outcomes', {
    words: [
      { kind: 'taken', ...taken('01', {}) },
      { kind: 'taken', ...taken('02', { fate: 'released' }) },
      { kind: 'taken', ...taken('03', { species: 'goat' }) },
      { kind: 'taken', ...taken('04', { day: '2026-05-01' }) },
    ],
  })
  expect(answer.status, answer.bytes.toString()).toBeLessThan(300)
  const told = strictly(trapYardsAnswer, await service.ask('/api/trap-yards?species=camel'))
  expect(told.taken).toEqual([{ pointId: wren, head: 5 }])
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH|DELETE) /.test(line))).toEqual([])
})
