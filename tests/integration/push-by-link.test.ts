/** What a sender can do that can only call an address: the key is in the link, and nowhere else. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { logTo } from '../../services/log.ts'
import { plainPhoto } from './photos.ts'
import { openService, problemOf, type SetUpCamera, type TestService } from './service.ts'
import { addPointWithCamera, camerasNow, setUpStation } from './station.ts'
import { photoLike } from './stub-photos.ts'

let service: TestService
let camera: SetUpCamera
const said: string[] = []

beforeAll(async () => {
  // All of it, what is for a search for faults too.
  const log = logTo((_level, line, fields) => said.push(JSON.stringify({ line, fields })))
  service = await openService({ surroundings: { log } })
  await setUpStation(service)
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
})
afterAll(() => service.stop())

const link = (what: string) => `/api/k/${camera.key}/${what}`

describe('with the key in the address', () => {
  test('a photo is taken as it is with the key in the header, and is the same photo', async () => {
    const photo = await photoLike('by link')
    const first = await service.ask(link('stills'), { method: 'POST', body: new Uint8Array(photo) })
    expect(first.status).toBe(201)
    const again = await service.post('/api/stills', camera, photo)
    expect([again.status, again.json]).toEqual([
      200,
      { stills: [{ ...(first.json as { stills: object[] }).stills[0], known: true }] },
    ])
  })
  test('several photos of a form', async () => {
    const form = new FormData()
    for (const name of ['a', 'b'])
      form.append('photo', new Blob([new Uint8Array(await photoLike(`form ${name}`))]), `${name}.jpg`)
    const answer = await service.ask(link('stills'), { method: 'POST', body: form })
    expect((answer.json as { stills: unknown[] }).stills).toHaveLength(2)
  })
  test('a heartbeat by a mere call, with what it tells behind the question mark', async () => {
    service.passHours(1)
    const answer = await service.ask(link('heartbeats?batteryPercent=71&temperatureC=-3.5'))
    expect([answer.status, answer.json]).toEqual([201, { known: false }])
    const rows = await service.house.ledger.selectFrom('heartbeats').selectAll().execute()
    expect(rows.at(-1)).toMatchObject({ battery_percent: 71, temperature_c: -3.5 })
    expect((await camerasNow(service))[0]?.lastContactAt).toBe('2026-11-25T07:10:00+10:30')
  })
  test('a level by a mere call', async () => {
    const answer = await service.ask(link('levels?levelPercent=62'))
    expect(answer.json).toMatchObject({ state: { kind: 'water good', levelPercent: 62, source: 'reading' } })
  })
  test.each(['heartbeats?batteryPercent=full', 'heartbeats?battery=7', 'levels', 'levels?levelPercent=101'])(
    'what makes no sense is refused with its field: %s',
    async (what) => {
      expect(problemOf(await service.ask(link(what)), 400).field).toMatch(
        /^(battery|batteryPercent|levelPercent)$/,
      )
    },
  )
  test('a wrong key, and one that was replaced', async () => {
    const wrong = `/api/k/${'x'.repeat(25)}/heartbeats`
    expect(problemOf(await service.ask(wrong), 401).detail).toBe('No camera has the key in the address.')
    const renewed = await service.send('POST', `/api/cameras/${camera.id}/key`, {})
    problemOf(await service.ask(link('heartbeats')), 401)
    camera = { ...camera, key: (renewed.json as { key: string }).key }
    service.passHours(1)
    expect((await service.ask(link('heartbeats'))).status).toBe(201)
  })
})

test('no key is logged, measured or answered, however the way to it is written', async () => {
  const ways = [
    link('heartbeats'),
    link('nothing'),
    `/API/K/${camera.key}/heartbeats`,
    `/api/%6B/${camera.key}/stills`,
  ]
  for (const way of ways) expect((await service.ask(way)).bytes.toString()).not.toContain(camera.key)
  await service.ask(link('stills'), { method: 'POST', body: 'no photo' })
  const metrics = (await service.ask('/metrics')).bytes.toString()
  expect(metrics).toContain('route="/api/k/:key/stills"')
  expect(metrics).not.toContain(camera.key)
  expect(said.some((line) => line.includes('/k/***'))).toBe(true)
  expect(said.join('\n')).not.toContain(camera.key)
})

describe('a camera that sends too much', () => {
  test('is told to wait, and how long; what it may send comes in', async () => {
    await service.send('PUT', '/api/intake-limits', {
      stillMegabytes: 30,
      megapixels: 100,
      stillsAMinute: 2,
      stillsADay: 5,
    })
    service.passHours(30)
    const send = async (word: string) => await service.post('/api/stills', camera, await photoLike(word))
    expect([(await send('1')).status, (await send('2')).status]).toEqual([201, 201])
    const refused = await send('3')
    expect(problemOf(refused, 429).detail).toMatch(/as many photos as it may in a minute \(2\)/)
    expect(refused.headers.get('retry-after')).toBe('30')
    service.passHours(31 / 3600)
    expect((await send('3')).status).toBe(201)
    service.passHours(1)
    expect([(await send('4')).status, (await send('5')).status]).toEqual([201, 201])
    service.passHours(1)
    const day = await send('6')
    expect(problemOf(day, 429).detail).toMatch(/in a day \(5\)/)
    expect(Number(day.headers.get('retry-after'))).toBeGreaterThan(20 * 3600)
    service.passHours(23)
    expect((await send('6')).status).toBe(201)
  })
  test('a photo over the station’s own limit of bytes is refused, over that of pixels kept as unreadable', async () => {
    service.passHours(30)
    await service.send('PUT', '/api/intake-limits', {
      stillMegabytes: 0.1,
      megapixels: 100,
      stillsAMinute: null,
      stillsADay: null,
    })
    problemOf(await service.post('/api/stills', camera, Buffer.alloc(150_000)), 413)
    await service.send('PUT', '/api/intake-limits', {
      stillMegabytes: 30,
      megapixels: 0.1,
      stillsAMinute: null,
      stillsADay: null,
    })
    const answer = await service.post('/api/stills', camera, await plainPhoto('galah-well-00.jpg'))
    expect(answer.json).toMatchObject({
      stills: [{ state: 'unreadable', reason: expect.stringContaining('over the limit of 0.1 megapixels') }],
    })
  })
  test.each([
    { stillMegabytes: 31 },
    { megapixels: 101 },
    { stillsAMinute: 0 },
    { stillsADay: 1.5 },
    { anything: 1 },
  ])('a limit that cannot be: %j', async (change) => {
    const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: 600, stillsADay: 20_000, ...change }
    expect(problemOf(await service.send('PUT', '/api/intake-limits', limits), 400).field).toBe(
      Object.keys(change)[0],
    )
  })
})
