/** The doors: what is refused, in which words, and what is taken. */
import { once } from 'node:events'
import { request } from 'node:http'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import {
  cameraShape,
  cameraWithKey,
  pointAnswer,
  pointShape,
  problemShape,
  stationAnswer,
  waterRunAnswer,
} from '../../services/http/shapes.ts'
import { MAX_STILL_BYTES } from '../../services/intake/receive-still.ts'
import { answerOf, type RawAnswer, rawAsk } from './raw-ask.ts'
import { MORNING, openService, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addCamera, addPointWithCamera, camerasNow, setUpStation } from './station.ts'

let service: TestService
let pointId: number
let camera: SetUpCamera

beforeAll(async () => {
  service = await openService()
})
afterAll(() => service?.stop())

describe('before the station is set up', () => {
  test('the station is null, not an error', async () => {
    expect(strictly(stationAnswer, await service.ask('/api/station')).station).toBeNull()
  })
  test.each([
    ['GET', '/api/points'],
    ['GET', '/api/cameras'],
    ['GET', '/api/water-run'],
    ['GET', '/api/checks/cards'],
    ['GET', '/api/stills'],
    ['GET', '/api/visits'],
  ])('%s %s says that set-up comes first', async (method, path) => {
    expect(problemOf(await service.ask(path, { method }), 409)).toMatchObject({
      field: 'station',
      remedy: expect.stringContaining('Set-up'),
    })
  })
  test('so does adding a point', async () => {
    const body = { name: 'Wren Bore', lat: -28, lon: 135 }
    expect(problemOf(await service.send('POST', '/api/points', body), 409)).toMatchObject({
      field: 'station',
    })
  })
  test('a station in a zone that is none is refused', async () => {
    const body = { name: 'Thornbill Plains', zone: 'Australia/Nowhere', homestead: { lat: -28, lon: 135 } }
    expect(problemOf(await service.send('PUT', '/api/station', body), 400)).toMatchObject({ field: 'zone' })
  })
  test('then the station, a point and a camera are made', async () => {
    await setUpStation(service)
    camera = await addPointWithCamera(service, { name: 'Wren Bore' })
    pointId = camera.pointId
    expect(camera.key).toMatch(/^[A-Za-z0-9]{25}$/)
  })
})

describe('the camera’s key', () => {
  test.each(['/api/stills', '/api/heartbeats', '/api/levels'])('%s without one is refused', async (path) => {
    const answer = await service.send('POST', path, {})
    expect(problemOf(answer, 401)).toMatchObject({ field: 'X-Camera-Key' })
  })
  test.each(['/api/stills', '/api/heartbeats', '/api/levels'])('%s with a wrong one', async (path) => {
    const answer = await service.send('POST', path, {}, { 'X-Camera-Key': `${camera.key}x` })
    expect(problemOf(answer, 401)).toMatchObject({ field: 'X-Camera-Key' })
  })
  test('is told once: later only its last four signs', async () => {
    const answer = await service.ask('/api/cameras')
    expect(answer.bytes.toString()).not.toContain(camera.key)
    const { cameras } = z.object({ cameras: z.array(cameraShape) }).parse(answer.json)
    expect(cameras[0]?.keyHint).toBe(camera.key.slice(-4))
  })
  test('made new, the old one stops working', async () => {
    const spare = await addCamera(service, { name: 'Spare camera', pointId })
    const answer = await service.ask(`/api/cameras/${spare.id}/key`, { method: 'POST' })
    const { key } = strictly(cameraWithKey, answer)
    problemOf(await service.post('/api/heartbeats', spare, Buffer.alloc(0)), 401)
    expect((await service.post('/api/heartbeats', { ...spare, key }, Buffer.alloc(0))).status).toBe(201)
  })
  test('no key is refused before the body is read', async () => {
    const answer = await sendHead({ 'Content-Length': String(20 * 1024 * 1024) })
    expect(answer.status).toBe(401)
  })
})

describe('a body over the limit', () => {
  test('declared: refused without a byte of it', async () => {
    const answer = await sendHead({
      'X-Camera-Key': camera.key,
      'Content-Length': String(MAX_STILL_BYTES + 1),
    })
    expect(answer.status).toBe(413)
    expect(problemShape.parse(JSON.parse(answer.body))).toMatchObject({ status: 413, field: 'body' })
  })
  test('sent without a length: refused once it is over, and the sender hears it', async () => {
    const answer = await sendChunks({ 'X-Camera-Key': camera.key }, MAX_STILL_BYTES + 1024)
    expect(answer.status).toBe(413)
    expect(problemShape.parse(JSON.parse(answer.body)).remedy).toContain('smaller picture')
  })
  test('as a file of a form', async () => {
    const form = new FormData()
    form.append('photo', new Blob([Buffer.alloc(MAX_STILL_BYTES + 1)]), 'huge.jpg')
    const answer = await service.ask('/api/stills', {
      method: 'POST',
      headers: { 'X-Camera-Key': camera.key },
      body: form,
    })
    expect(problemOf(answer, 413)).toMatchObject({ field: 'body' })
  })
  test('of JSON', async () => {
    const body = { who: 'x'.repeat(1_200_000), words: [] }
    expect(problemOf(await service.send('POST', '/api/checks', body), 413)).toMatchObject({ field: 'body' })
  })
  test('more photos in one form than are taken at once', async () => {
    const form = new FormData()
    for (let i = 0; i < 21; i += 1) form.append('photo', new Blob(['x']), `${i}.jpg`)
    const answer = await service.ask('/api/stills', {
      method: 'POST',
      headers: { 'X-Camera-Key': camera.key },
      body: form,
    })
    expect(problemOf(answer, 413).detail).toContain('20')
  })
})

describe('bodies that are not what was asked for', () => {
  test('broken JSON', async () => {
    const answer = await service.ask('/api/points', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: '{"name": "Wren',
    })
    expect(problemOf(answer, 400)).toMatchObject({ field: 'body' })
  })
  test('no body at all', async () => {
    expect(problemOf(await service.ask('/api/points', { method: 'POST' }), 400)).toMatchObject({
      field: 'body',
    })
  })
  test('JSON that calls itself something else is refused, never silently left unread', async () => {
    // What curl sends with -d when no header is set.
    const headers = { 'Content-Type': 'application/x-www-form-urlencoded', 'X-Camera-Key': camera.key }
    const answer = await service.ask('/api/heartbeats', {
      method: 'POST',
      headers,
      body: '{"batteryPercent": 3}',
    })
    expect(problemOf(answer, 400)).toMatchObject({ field: 'Content-Type' })
  })
  test('JSON in letters that are not UTF-8', async () => {
    const answer = await service.ask('/api/points', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json; charset=klingon' },
      body: '{}',
    })
    problemOf(answer, 415)
  })
  test('an unknown field is named', async () => {
    const body = { name: 'Lark Tank', lat: -28, lon: 135, depth: 4 }
    expect(problemOf(await service.send('POST', '/api/points', body), 400)).toMatchObject({ field: 'depth' })
  })
  test('an unknown field deep inside is named by its path', async () => {
    const body = { words: [{ stillId: 1, verdict: 'agreed', mood: 'good' }] }
    expect(problemOf(await service.send('POST', '/api/checks', body), 400).field).toBe('words.0.mood')
  })
  test('an unknown question in the address is named', async () => {
    expect(problemOf(await service.ask('/api/stills?colour=red'), 400)).toMatchObject({ field: 'colour' })
  })
  test.each([
    ['a latitude of 200', { lat: 200 }, 'lat'],
    ['a longitude of -181', { lon: -181 }, 'lon'],
    ['a blank name', { name: '   ' }, 'name'],
    ['a kind that is none', { kind: 'lake' }, 'kind'],
    ['a place in the run beyond all points', { runOrder: 9_000_000_000 }, 'runOrder'],
    ['a name with a NUL in it', { name: 'Wren\u0000Bore' }, 'name'],
  ])('a point with %s', async (_what, change, field) => {
    const body = { name: 'Lark Tank', lat: -28, lon: 135, ...change }
    expect(problemOf(await service.send('POST', '/api/points', body), 400)).toMatchObject({ field })
  })
  test('a point whose name is taken', async () => {
    const body = { name: 'Wren Bore', lat: -28, lon: 135 }
    expect(problemOf(await service.send('POST', '/api/points', body), 409)).toMatchObject({ field: 'name' })
  })
  test('a camera whose name is taken', async () => {
    const body = { name: 'Wren camera', pointId }
    expect(problemOf(await service.send('POST', '/api/cameras', body), 409)).toMatchObject({ field: 'name' })
  })
  test.each(['2026-12-25T06:10:00+10:30', '9998-12-31T00:00:00Z', '1970-01-01T00:00:00Z'])(
    'a camera put up at %s',
    async (since) => {
      const answer = await service.send('POST', '/api/cameras', { name: 'Dated camera', pointId, since })
      expect(problemOf(answer, 400)).toMatchObject({ field: 'since' })
    },
  )
  test('a worth-a-look mark above the counting mark', async () => {
    const { station } = strictly(stationAnswer, await service.ask('/api/station'))
    const body = {
      name: station!.name,
      zone: station!.zone,
      homestead: station!.homestead,
      species: [{ species: 'camel', role: 'feral', countThreshold: 0.3, flagThreshold: 0.4 }],
    }
    expect(problemOf(await service.send('PUT', '/api/station', body), 400).field).toBe(
      'species.flagThreshold',
    )
  })
})

describe('what does not exist', () => {
  test.each([
    ['PATCH', '/api/cameras/999', { name: 'Nobody' }],
    ['POST', '/api/cameras/999/key', undefined],
    ['PATCH', '/api/points/999', { name: 'Nowhere' }],
    ['POST', '/api/points/999/states', { kind: 'water good' }],
    ['GET', '/api/points/999', undefined],
    ['GET', '/api/points/999/day', undefined],
    ['GET', '/api/points/999/nights', undefined],
    ['GET', '/api/stills/999', undefined],
    ['GET', '/api/stills/999/small', undefined],
    ['GET', '/api/stills/999/full', undefined],
    ['GET', '/api/stills?visit=999', undefined],
    ['POST', '/api/cameras', { name: 'Stray', pointId: 999 }],
    ['POST', '/api/checks', { words: [{ stillId: 999, verdict: 'agreed' }] }],
    ['GET', '/api/nothing-here', undefined],
    ['DELETE', '/api/points/1', undefined],
  ])('%s %s: 404 with a remedy', async (method, path, body) => {
    const answer =
      body === undefined ? await service.ask(path, { method }) : await service.send(method, path, body)
    problemOf(answer, 404)
  })
  test.each([
    '/api/points/0',
    '/api/points/-1',
    '/api/points/abc',
    '/api/points/1e400',
    '/api/points/9999999999',
    '/api/stills/9007199254740993',
  ])('an id that cannot be one: %s', async (path) => {
    expect(problemOf(await service.ask(path), 400)).toMatchObject({ field: 'id' })
  })
  test('an address that is no text', async () => {
    problemOf(await service.ask('/api/points/%ff'), 400)
    problemOf(await service.ask('/api/stills/%00/full'), 400)
  })
  test('a script of an older view is not found, which is no fault of ours', async () => {
    problemOf(await service.ask('/assets/old-index-abc123.js'), 404)
  })
})

describe('questions with a range', () => {
  test.each([
    ['/api/stills?limit=0', 'limit'],
    ['/api/stills?limit=201', 'limit'],
    ['/api/stills?limit=ten', 'limit'],
    ['/api/stills?cursor=nonsense', 'cursor'],
    [`/api/stills?cursor=${Buffer.from('-999999999999999.1').toString('base64url')}`, 'cursor'],
    ['/api/visits?from=2026-11-31', 'from'],
    ['/api/visits?species=cow', 'species'],
    ['/api/stills?species=camel&species=goat', 'species'],
    ['/api/stills?night=0000-01-01', 'night'],
    ['/api/water-run?night=9999-12-31', 'night'],
    ['/api/checks/cards?night=yesterday', 'night'],
    ['/api/stills?point=9999999999', 'point'],
    ['/api/stills?camera=9999999999', 'camera'],
  ])('%s is refused and the field named', async (path, field) => {
    expect(problemOf(await service.ask(path), 400)).toMatchObject({ field })
  })
  test.each([
    ['over 400 nights', 'from=2024-01-01&to=2026-01-01', 'from'],
    ['the later night first', 'from=2026-11-20&to=2026-11-10', 'from'],
    ['a night that no calendar has', 'from=2026-02-29', 'from'],
    ['a year before all cameras', 'from=0001-01-01&to=0001-01-02', 'from'],
  ])('nights: %s', async (_what, question, field) => {
    const answer = await service.ask(`/api/points/${pointId}/nights?${question}`)
    expect(problemOf(answer, 400)).toMatchObject({ field })
  })
  test('nights: 400 are the most that are given', async () => {
    // 2025-10-22 and 2026-11-25 are 399 days apart.
    const answer = await service.ask(`/api/points/${pointId}/nights?from=2025-10-22&to=2026-11-25`)
    expect(answer.json).toMatchObject({ nights: { length: 400 } })
    problemOf(await service.ask(`/api/points/${pointId}/nights?from=2025-10-21&to=2026-11-25`), 400)
  })
  test.each(['0000-01-01T00:00:00Z', '0001-01-01T00:00:00+14:00', 'now'])('a day until %s', async (until) => {
    const answer = await service.ask(`/api/points/${pointId}/day?until=${encodeURIComponent(until)}`)
    expect(problemOf(answer, 400)).toMatchObject({ field: 'until' })
  })
})

describe('a file of points', () => {
  const sendFile = (text: string, type = 'text/csv') =>
    service.ask('/api/points/file', { method: 'POST', headers: { 'Content-Type': type }, body: text })
  const pointsFile = z.object({ points: z.array(pointShape), added: z.int(), changed: z.int() })
  const names = async () =>
    z
      .object({ points: z.array(pointShape) })
      .parse((await service.ask('/api/points')).json)
      .points.map(({ name }) => name)

  test('one row with a latitude of 200: row and field are named, nothing is taken', async () => {
    const before = await names()
    const file = 'name,lat,lon\nLark Tank,-28.1,135.1\nMagpie Dam,200,135.2\nPlover Soak,-28.3,135.3\n'
    const problem = problemOf(await sendFile(file), 400)
    expect(problem.field).toBe('row 2.lat')
    expect(problem.detail).toContain('90')
    expect(await names()).toEqual(before)
  })
  test('GeoJSON with latitude and longitude the wrong way round is refused in the same way', async () => {
    const before = await names()
    const file = geoJson([
      ['Lark Tank', [135.1, -28.1]],
      ['Magpie Dam', [-28.2, 135.2]],
    ])
    expect(problemOf(await sendFile(file, 'application/geo+json'), 400).field).toBe('row 2.lat')
    expect(await names()).toEqual(before)
  })
  test.each([
    ['a name twice', 'name,lat,lon\nLark Tank,-28,135\nLark Tank,-28,136\n', 'row 2.name'],
    ['a latitude in words', 'name,lat,lon\nLark Tank,south,135\n', 'row 1.lat'],
    ['no longitude', 'name,lat\nLark Tank,-28\n', 'row 1.lon'],
    ['an unknown column', 'name,lat,lon,depth\nLark Tank,-28,135,4\n', 'row 1.depth'],
    ['a row that is too short', 'name,lat,lon\nLark Tank,-28\n', 'file'],
    ['a yard that is neither yes nor no', 'name,lat,lon,yard\nLark Tank,-28,135,perhaps\n', 'row 1.hasYard'],
    ['nothing', '', 'file'],
    ['a header alone', 'name,lat,lon\n', 'file'],
  ])('CSV with %s', async (_what, text, field) => {
    expect(problemOf(await sendFile(text), 400)).toMatchObject({ field })
  })
  test.each([
    ['text that is no JSON', 'not json', 'file'],
    ['a line', JSON.stringify({ type: 'FeatureCollection', features: [] }), 'file.features'],
    ['a point without a name', geoJson([[undefined, [135, -28]]]), 'row 1.name'],
  ])('GeoJSON with %s', async (_what, text, field) => {
    expect(problemOf(await sendFile(text, 'application/geo+json'), 400)).toMatchObject({ field })
  })
  test('of another kind', async () => {
    const answer = await sendFile('PK\x03\x04', 'application/zip')
    expect(problemOf(answer, 400)).toMatchObject({ field: 'Content-Type' })
  })
  test('CSV as a spreadsheet writes it is taken', async () => {
    // A byte order mark, Windows line ends, quotes round a comma, columns as people write them.
    const file = [
      '\ufeffName,Latitude,Longitude,Kind,Yard',
      '"Lark Tank, west",-28.1,135.1,tank,yes',
      'Magpie Dam,-28.2,135.2,dam,',
      '',
    ].join('\r\n')
    const answer = strictly(pointsFile, await sendFile(file))
    expect(answer).toMatchObject({ added: 2, changed: 0 })
    expect(answer.points.find(({ name }) => name === 'Lark Tank, west')).toMatchObject({
      kind: 'tank',
      lat: -28.1,
      lon: 135.1,
      hasYard: true,
    })
    expect(answer.points.find(({ name }) => name === 'Magpie Dam')).toMatchObject({
      kind: 'dam',
      hasYard: false,
    })
  })
  test('GeoJSON is taken; a point whose name is known is changed', async () => {
    const file = geoJson([
      ['Magpie Dam', [135.25, -28.25]],
      ['Plover Soak', [135.3, -28.3]],
    ])
    const answer = strictly(pointsFile, await sendFile(file, 'application/geo+json'))
    expect(answer).toMatchObject({ added: 1, changed: 1 })
    expect(answer.points.find(({ name }) => name === 'Magpie Dam')).toMatchObject({
      lat: -28.25,
      lon: 135.25,
    })
  })
})

describe('states of a point', () => {
  const sayState = (body: object) => service.send('POST', `/api/points/${pointId}/states`, body)

  test('one tap says it of now', async () => {
    const answer = await sayState({ kind: 'water good' })
    expect(answer.status).toBe(201)
    expect(answer.json).toMatchObject({ state: { kind: 'water good', at: MORNING, source: 'tap' } })
  })
  test('may be dated back', async () => {
    const answer = await sayState({ kind: 'rain', at: '2026-11-20T00:00:00Z', note: '12 mm' })
    expect(answer.json).toMatchObject({ state: { at: '2026-11-20T10:30:00+10:30', note: '12 mm' } })
  })
  test('may not be dated ahead', async () => {
    const answer = await sayState({ kind: 'water off', at: '2026-11-25T07:10:00+10:30' })
    expect(problemOf(answer, 400)).toMatchObject({ field: 'at' })
  })
  test.each([
    ['a kind that is none', { kind: 'water lots' }, 'kind'],
    ['a time without its offset', { kind: 'rain', at: '2026-11-20T00:00:00' }, 'at'],
    ['a time before there were clocks to set', { kind: 'rain', at: '0001-01-01T00:00:00Z' }, 'at'],
    ['a note with a NUL in it', { kind: 'rain', note: 'a\u0000b' }, 'note'],
  ])('%s', async (_what, body, field) => {
    expect(problemOf(await sayState(body), 400)).toMatchObject({ field })
  })
})

describe('level readings', () => {
  /** Marks: under 40 is low, under 10 dry. */
  const tank = { name: 'Swift Tank', kind: 'tank', lowMarkPercent: 40, dryMarkPercent: 10 }
  let meter: SetUpCamera
  beforeAll(async () => {
    meter = await addPointWithCamera(service, tank, { name: 'Swift meter' })
  })
  const sendLevel = (body: unknown) => service.tell('/api/levels', meter, body)
  const waterNow = async () =>
    strictly(pointAnswer, await service.ask(`/api/points/${meter.pointId}`)).row.water

  test.each([
    [100, 'good'],
    [40, 'good'],
    [39.9, 'low'],
    [10, 'low'],
    [9.9, 'dry'],
    [0, 'dry'],
  ])('%s per cent is %s', async (levelPercent, state) => {
    const answer = await sendLevel({ levelPercent })
    expect(answer.status).toBe(201)
    expect(answer.json).toMatchObject({ state: { kind: `water ${state}`, source: 'reading', levelPercent } })
    expect(await waterNow()).toMatchObject({ state, source: 'reading', levelPercent })
  })
  test('a reading is judged by the marks as they are now', async () => {
    await sendLevel({ levelPercent: 30 })
    expect(await waterNow()).toMatchObject({ state: 'low' })
    await service.send('PATCH', `/api/points/${meter.pointId}`, { lowMarkPercent: 25 })
    expect(await waterNow()).toMatchObject({ state: 'good' })
  })
  test.each([
    ['over 100 per cent', { levelPercent: 101 }, 'levelPercent'],
    ['under 0 per cent', { levelPercent: -1 }, 'levelPercent'],
    ['in words', { levelPercent: '30' }, 'levelPercent'],
    ['none', {}, 'levelPercent'],
    ['an hour ahead', { levelPercent: 30, at: '2026-11-25T07:10:00+10:30' }, 'at'],
  ])('%s is refused', async (_what, body, field) => {
    expect(problemOf(await sendLevel(body), 400)).toMatchObject({ field })
  })
})

describe('heartbeats', () => {
  let quiet: SetUpCamera
  beforeAll(async () => {
    quiet = await addCamera(service, { name: 'Quiet camera', pointId })
  })
  const beat = (body: unknown) => service.tell('/api/heartbeats', quiet, body)
  const lastContact = async () => (await camerasNow(service)).find(({ id }) => id === quiet.id)?.lastContactAt

  test('with what the camera knows of itself', async () => {
    const answer = await beat({
      at: '2026-11-24T12:00:00+10:30',
      batteryPercent: 71,
      temperatureC: 44.5,
      signalPercent: 20,
      freeBytes: 1_234_567,
    })
    expect(answer.status).toBe(201)
    expect(answer.json).toEqual({ known: false })
    expect(await lastContact()).toBe('2026-11-24T12:00:00+10:30')
  })
  test('the same again is known', async () => {
    const answer = await beat({ at: '2026-11-24T12:00:00+10:30' })
    expect([answer.status, answer.json]).toEqual([200, { known: true }])
  })
  test('without a body: the call alone says that the camera is awake', async () => {
    const answer = await service.ask('/api/heartbeats', {
      method: 'POST',
      headers: { 'X-Camera-Key': quiet.key },
    })
    expect(answer.status).toBe(201)
    expect(await lastContact()).toBe(MORNING)
  })
  test('an older one, late, does not turn the last contact back', async () => {
    expect((await beat({ at: '2026-11-24T18:00:00+10:30' })).status).toBe(201)
    expect(await lastContact()).toBe(MORNING)
  })
  test.each([
    ['an hour ahead', { at: '2026-11-25T07:10:00+10:30' }, 'at'],
    ['from before there were clocks', { at: '0001-01-01T00:00:00Z' }, 'at'],
    ['from a clock after a flat battery', { at: '1970-01-01T03:00:00Z' }, 'at'],
    ['a battery over full', { batteryPercent: 140 }, 'batteryPercent'],
    ['an unknown field', { mood: 'fine' }, 'mood'],
  ])('%s is refused', async (_what, body, field) => {
    expect(problemOf(await beat(body), 400)).toMatchObject({ field })
  })
})

describe('photos in a form', () => {
  const sendForm = (form: FormData) =>
    service.ask('/api/stills', { method: 'POST', headers: { 'X-Camera-Key': camera.key }, body: form })

  test('two files and a time are two photos', async () => {
    const form = new FormData()
    form.append('takenAt', '2026-11-24T10:00:00Z')
    form.append('a', new Blob(['a']), 'a.jpg')
    form.append('b', new Blob(['b']), 'b.jpg')
    const answer = await sendForm(form)
    expect(answer.status).toBe(201)
    expect(answer.json).toMatchObject({
      stills: [{ takenAt: '2026-11-24T20:30:00+10:30' }, { takenAt: '2026-11-24T20:30:00+10:30' }],
    })
  })
  test('a form without a file', async () => {
    const form = new FormData()
    form.append('takenAt', '2026-11-24T10:00:00Z')
    expect(problemOf(await sendForm(form), 400)).toMatchObject({ field: 'body' })
  })
  test('a field that is not known', async () => {
    const form = new FormData()
    form.append('taken_at', '2026-11-24T10:00:00Z')
    form.append('a', new Blob(['c']), 'c.jpg')
    expect(problemOf(await sendForm(form), 400)).toMatchObject({ field: 'taken_at' })
  })
  test.each([
    ['without a boundary', 'multipart/form-data', 'x'],
    [
      'cut short',
      'multipart/form-data; boundary=x',
      '--x\r\nContent-Disposition: form-data; name="a"; filename="a"\r\n\r\nabc',
    ],
    ['of nothing', 'multipart/form-data; boundary=x', ''],
  ])('a form %s', async (_what, type, body) => {
    const answer = await service.ask('/api/stills', {
      method: 'POST',
      headers: { 'X-Camera-Key': camera.key, 'Content-Type': type },
      body,
    })
    expect(problemOf(answer, 400)).toMatchObject({ field: 'body' })
  })
  test('a file name with a NUL in it does not keep the photo out', async () => {
    const answer = await service.post('/api/stills', camera, Buffer.from('named oddly'), {
      'X-File-Name': 'a%00b.jpg',
    })
    expect(answer.status).toBe(201)
  })
})

describe('strangers’ pages', () => {
  const as = (headers: Record<string, string>, method = 'GET') =>
    rawAsk(service, '/api/station', { method, headers })

  test('a name that is not this machine’s is not answered', async () => {
    const answer = await as({ Host: 'evil.example' })
    expect(answer.status).toBe(403)
    expect(problemShape.parse(JSON.parse(answer.body))).toMatchObject({ field: 'Host' })
  })
  test.each(['localhost', '127.0.0.1:8470', '[::1]:8470', 'LOCALHOST:1'])('%s is answered', async (host) => {
    expect((await as({ Host: host })).status).toBe(200)
  })
  test('a page of another site may not change anything', async () => {
    for (const origin of ['http://evil.example', 'null', 'http://localhost:1', 'nonsense']) {
      const answer = await as({ Origin: origin }, 'PUT')
      expect(answer.status).toBe(403)
      expect(problemShape.parse(JSON.parse(answer.body))).toMatchObject({ field: 'Origin' })
    }
  })
  test('our own page may', async () => {
    const host = new URL(service.address).host
    // Past the guard and refused for its body.
    expect((await as({ Host: host, Origin: `http://${host}` }, 'PUT')).status).toBe(400)
  })
  test('no answer invites another site to read it', async () => {
    const answer = await service.ask('/api/station', { headers: { Origin: 'http://evil.example' } })
    expect(answer.headers.get('access-control-allow-origin')).toBeNull()
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff')
  })
})

test('the water run still answers after all of this, and nothing was an unforeseen fault', async () => {
  strictly(waterRunAnswer, await service.ask('/api/water-run'))
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH|DELETE) /.test(line))).toEqual([])
})

function geoJson(points: ReadonlyArray<readonly [string | undefined, readonly [number, number]]>): string {
  return JSON.stringify({
    type: 'FeatureCollection',
    features: points.map(([name, coordinates]) => ({
      type: 'Feature',
      geometry: { type: 'Point', coordinates },
      properties: { name },
    })),
  })
}

/** A post that announces a body and never sends it. */
async function sendHead(headers: Record<string, string>): Promise<RawAnswer> {
  const asking = request(`${service.address}/api/stills`, { method: 'POST', headers, agent: false })
  asking.flushHeaders()
  const answer = await answerOf(asking)
  asking.on('error', () => undefined).destroy()
  return answer
}

/** A post whose length nobody announced. */
async function sendChunks(headers: Record<string, string>, bytes: number): Promise<RawAnswer> {
  const asking = request(`${service.address}/api/stills`, { method: 'POST', headers, agent: false })
  const answered = answerOf(asking)
  const chunk = Buffer.alloc(1024 * 1024, 7)
  for (let sent = 0; sent < bytes; sent += chunk.length) {
    if (!asking.write(chunk)) await Promise.race([once(asking, 'drain'), answered])
  }
  asking.end()
  return await answered
}
