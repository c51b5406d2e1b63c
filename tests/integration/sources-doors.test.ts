/** A camera's sources over the API: what is taken, what is refused and in which field, and what is never told. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { batteriesAnswer } from '../../services/http/battery-shapes.ts'
import { waterRunAnswer } from '../../services/http/shapes.ts'
import {
  type CameraSource,
  sourceAnswer,
  sourcesAnswer,
  tryAnswer,
} from '../../services/http/source-shapes.ts'
import { logTo } from '../../services/log.ts'
import { type CameraServer, gives, startCamera, wantsDigest } from './camera-server.ts'
import { photoTakenAt } from './photos.ts'
import { openService, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, setUpStation } from './station.ts'

const PASSWORD = 'dry creek'
const said: string[] = []
let service: TestService
let root: string
let wren: SetUpCamera
let swift: SetUpCamera
let page: CameraServer

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'hooftally-drop-'))
  page = await startCamera()
  const log = logTo((_level, line, fields) => said.push(JSON.stringify({ line, fields })))
  service = await openService({
    config: { dropRoots: [root], cameraHosts: ['127.0.0.1'] },
    surroundings: { log },
  })
  await setUpStation(service)
  wren = await addPointWithCamera(service, { name: 'Wren Bore' })
  swift = await addPointWithCamera(service, { name: 'Swift Tank' })
})
afterAll(async () => {
  await service.stop()
  await page.close()
  await rm(root, { recursive: true, force: true })
})
beforeEach(async () => {
  await service.house.ledger.deleteFrom('camera_sources').execute()
})

const path = (camera: SetUpCamera, rest = '') => `/api/cameras/${camera.id}/sources${rest}`
const add = (body: object, camera = wren) => service.send('POST', path(camera), body)
const added = async (body: object, camera = wren): Promise<CameraSource> => {
  const answer = await add(body, camera)
  expect(answer.status).toBe(201)
  return strictly(sourceAnswer, answer).source
}
const snapshot = (settings: object = {}) => ({
  kind: 'snapshot',
  settings: { address: page.address, user: 'gate', password: PASSWORD, ...settings },
})
const tryNow = async ({ cameraId, id }: CameraSource) =>
  strictly(tryAnswer, await service.send('POST', `/api/cameras/${cameraId}/sources/${id}/try`, {}))

describe('set up', () => {
  test('what is left out is as usual, and listed with its camera only', async () => {
    await mkdir(join(root, 'wren'), { recursive: true })
    const source = await added({ kind: 'drop folder', settings: { folder: 'wren' } })
    expect(source).toMatchObject({ isOn: true, settings: { afterwards: 'move', quietSeconds: 10 } })
    const list = async (camera: SetUpCamera) =>
      strictly(sourcesAnswer, await service.ask(path(camera))).sources
    expect((await list(wren)).map(({ id }) => id)).toEqual([source.id])
    expect(await list(swift)).toEqual([])
  })
  test('changed, paused, and taken away', async () => {
    const { id } = await added(snapshot())
    const change = (body: object) => service.send('PATCH', path(wren, `/${id}`), body)
    const changed = strictly(sourceAnswer, await change({ settings: { everyMinutes: 5 } })).source
    expect(changed.settings).toMatchObject({ everyMinutes: 5, address: page.address, hasPassword: true })
    expect(strictly(sourceAnswer, await change({ isOn: false })).source.isOn).toBe(false)
    problemOf(await service.send('PATCH', path(swift, `/${id}`), { isOn: true }), 404)
    const answer = await service.send('DELETE', path(wren, `/${id}`), {})
    expect(strictly(sourcesAnswer, answer).sources).toEqual([])
    problemOf(await service.send('POST', path(wren, `/${id}/try`), {}), 404)
  })
  test.each([
    [{ kind: 'pigeon', settings: {} }, 'kind'],
    [{ kind: 'drop folder', settings: {} }, 'settings.folder'],
    [{ kind: 'drop folder', settings: { folder: 'not-there' } }, 'settings.folder'],
    [{ kind: 'drop folder', settings: { folder: '/etc' } }, 'settings.folder', 403],
    [{ kind: 'drop folder', settings: { folder: '..' } }, 'settings.folder', 403],
    [{ kind: 'drop folder', settings: { folder: '.', quietSeconds: 0 } }, 'settings.quietSeconds'],
    [{ kind: 'drop folder', settings: { folder: '.', keep: true } }, 'settings.keep'],
    [{ kind: 'snapshot', settings: { address: 'camera' } }, 'settings.address'],
    [{ kind: 'snapshot', settings: { address: 'http://a:b@127.0.0.1/' } }, 'settings.address'],
    [{ kind: 'snapshot', settings: { address: 'http://169.254.169.254/' } }, 'settings.address', 403],
    [{ kind: 'snapshot', settings: { address: 'http://[::1]/' } }, 'settings.address', 403],
    [
      { kind: 'snapshot', settings: { address: 'http://127.0.0.1/', everyMinutes: 0 } },
      'settings.everyMinutes',
    ],
    [
      { kind: 'snapshot', settings: { address: 'http://127.0.0.1/', certificateSha256: 'ab' } },
      'settings.certificateSha256',
    ],
  ] as const)('refused in its field: %j', async (body, field, status?: number) => {
    expect(problemOf(await add(body), status ?? 400).field).toBe(field)
  })
  test('a camera that is not there', async () => {
    problemOf(await service.ask('/api/cameras/999/sources'), 404)
  })
})

/** Paused, so that nothing but the try looks at it. */
describe('tried', () => {
  test('the photo that came is answered, and is in the ledger', async () => {
    const photo = await photoTakenAt('galah-well-08.jpg', '2026-11-24T22:15:00+10:30')
    page.handle(wantsDigest('gate', PASSWORD, { algorithm: 'MD5', right: gives(() => photo) }))
    const { tried, source } = await tryNow(await added({ ...snapshot(), isOn: false }))
    expect(tried).toMatchObject({
      outcome: 'well',
      words: null,
      photos: [{ known: false, clockDoubt: null }],
    })
    expect(tried.photos[0]?.takenAt).toBe('2026-11-24T22:15:00+10:30')
    expect(source).toMatchObject({ failures: 0, lastReason: null })
    expect((await service.ask(tried.photos[0]!.smallUrl)).status).toBe(200)
  })
  test('a folder’s too, and what was set aside is named', async () => {
    await mkdir(join(root, 'tried'), { recursive: true })
    const source = await added({ kind: 'drop folder', isOn: false, settings: { folder: 'tried' } })
    await writeFile(
      join(root, 'tried', 'a.jpg'),
      await photoTakenAt('galah-well-00.jpg', '2026-11-24T12:15:00+10:30'),
    )
    const passing = setInterval(() => service.passHours(1 / 3_600), 200)
    const { tried } = await tryNow(source)
    clearInterval(passing)
    expect(tried.photos).toHaveLength(1)
  })
  test('or the exact reason; after three of them the Water run says so', async () => {
    page.handle((_request, response) => response.writeHead(404).end())
    const source = await added(snapshot())
    for (let turn = 0; turn < 3; turn += 1) {
      const { tried } = await tryNow(source)
      expect(tried).toEqual({ outcome: 'failed', words: 'The camera answered 404 (Not Found).', photos: [] })
    }
    const run = waterRunAnswer.parse((await service.ask('/api/water-run')).json)
    expect(run.rows.find(({ point }) => point.name === 'Wren Bore')?.notFetched).toEqual([
      { cameraName: 'Wren camera', reason: 'The camera answered 404 (Not Found).' },
    ])
  })
})

test('a password is in no answer and in no log, and goes to no other host', async () => {
  page.handle((_request, response) =>
    response.writeHead(401, { 'WWW-Authenticate': 'Basic realm="x"' }).end(),
  )
  const source = await added(snapshot({ address: `${page.address}?pwd=${encodeURIComponent(PASSWORD)}` }))
  const answers = [
    JSON.stringify(source),
    JSON.stringify(await tryNow(source)),
    (await service.ask(path(wren))).bytes.toString(),
    (await service.ask('/api/water-run')).bytes.toString(),
    (await service.ask('/metrics')).bytes.toString(),
  ]
  for (const answer of [...answers, said.join()]) expect(answer).not.toMatch(/dry(%20|\+| )creek/)
  const moved = { settings: { address: 'http://127.0.0.1:1/' } }
  const refused = problemOf(await service.send('PATCH', path(wren, `/${source.id}`), moved), 400)
  expect(refused.field).toBe('settings.password')
})

test('a battery that falls is foretold, there and on the Water run', async () => {
  for (let day = 10; day >= 0; day -= 1) {
    const at = new Date(Date.parse('2026-11-24T20:00:00Z') - day * 86_400_000).toISOString()
    // Charged by the sun at noon: what counts is the dawn.
    await service.tell('/api/heartbeats', wren, { at, batteryPercent: 34 + 2 * day })
    const noon = new Date(Date.parse(at) - 6 * 3_600_000).toISOString()
    await service.tell('/api/heartbeats', wren, { at: noon, batteryPercent: 90 })
  }
  const { batteries } = strictly(batteriesAnswer, await service.ask('/api/batteries'))
  expect(batteries).toMatchObject([
    { cameraName: 'Wren camera', percent: 36, because: null, flat: { inDays: 7, percentADay: 2, days: 10 } },
  ])
  const run = waterRunAnswer.parse((await service.ask('/api/water-run')).json)
  expect(run.rows.find(({ point }) => point.name === 'Wren Bore')?.batteries).toEqual([
    { cameraName: 'Wren camera', percent: 36, on: batteries[0]!.flat!.on, inDays: 7 },
  ])
  const kept = await service.house.ledger.selectFrom('battery_days').selectAll().orderBy('day').execute()
  const counted = await service.house.ledger
    .selectFrom('heartbeats')
    .select((e) => ['camera_id', e.fn.min('battery_percent').as('lowest_percent')])
    .select((e) => e.cast<string>(e.fn('timezone', [e.val('UTC'), 'at']), 'date').as('day'))
    .where('battery_percent', 'is not', null)
    .groupBy(['camera_id', 'day'])
    .orderBy('day')
    .execute()
  expect(kept).toEqual(counted)
})
