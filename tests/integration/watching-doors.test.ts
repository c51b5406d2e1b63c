/** How cameras are and how nights were watched, over the API; and people's words on it. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import { cameraWatchAnswer, troubleAnswer, watchingAnswer } from '../../services/http/camera-shapes.ts'
import { waterRunAnswer } from '../../services/http/shapes.ts'
import { lookAfterCamera } from '../../services/look-after-cameras.ts'
import { builtFile } from '../../services/paths.ts'
import { findCamera } from '../../services/store/cameras.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'

let service: TestService
let camera: SetUpCamera
const NIGHT = '2026-11-24'

beforeAll(async () => {
  service = await openStation({ surroundings: { eyeEntry: builtFile('tests/stub-eye.js') } })
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  for (const [time, beat] of [
    ['2026-11-24T08:00:00+10:30', { batteryPercent: 71, freeBytes: 8e9 }],
    ['2026-11-24T20:00:00+10:30', { batteryPercent: 70, freeBytes: 1e6 }],
    ['2026-11-25T05:00:00+10:30', { batteryPercent: 64, freeBytes: 1e6 }],
  ] as const) {
    service.setClock(time)
    await service.tell('/api/heartbeats', camera, beat)
  }
  service.setClock('2026-11-25T06:00:00+10:30')
  const { house } = service
  await lookAfterCamera(house.ledger, await findCamera(house.ledger, camera.id), house.now())
})
afterAll(() => service.stop())

const cameras = async () => strictly(cameraWatchAnswer, await service.ask('/api/cameras/watch')).cameras
const night = async () =>
  strictly(
    watchingAnswer,
    await service.ask(`/api/points/${camera.pointId}/watching?from=${NIGHT}&to=${NIGHT}`),
  ).nights[0]!
const waterRow = async () => strictly(waterRunAnswer, await service.ask('/api/water-run')).rows[0]!

it('a camera whose card is full is told at a glance, with why the night was not watched', async () => {
  const [one] = await cameras()
  expect(one).toMatchObject({
    state: 'card full',
    since: '2026-11-24T20:00:00+10:30',
    battery: { percent: 64 },
    cardRoom: { bytes: 1e6 },
  })
  expect((await night()).notWatched).toMatchObject([{ camera: 'Wren camera', why: 'card full', hours: 16 }])
  expect(await waterRow()).toMatchObject({ camera: 'cannot see', cannotSee: ['card full'] })
})

it('a word that it is fine gives the watched time back, and can be taken back', async () => {
  const [trouble] = (await cameras())[0]!.troubles
  const path = `/api/cameras/${camera.id}/troubles/${trouble!.id}/words`
  const before = (await night()).watched
  const said = await service.send('POST', path, { word: 'fine', note: 'it was emptied' })
  expect(strictly(troubleAnswer, said).trouble).toMatchObject({ isFine: true, words: [{ word: 'fine' }] })
  expect((await night()).watched).toBeGreaterThan(before ?? 1)
  expect(await waterRow()).toMatchObject({ camera: 'watching', cannotSee: [] })
  await service.send('POST', path, { word: 'taken back' })
  expect((await night()).watched).toBe(before)
  const { ledger } = service.house
  expect(await keptAggregates(ledger)).toEqual(await recountFromNothing(ledger))
  problemOf(await service.send('POST', path, { word: 'broken' }), 400)
  problemOf(
    await service.send('POST', `/api/cameras/999/troubles/${trouble!.id}/words`, { word: 'fine' }),
    404,
  )
  problemOf(await service.send('POST', `/api/cameras/${camera.id}/troubles/999/words`, { word: 'fine' }), 404)
})

it('a night’s watching is corrected with a note, and the correction taken back', async () => {
  const path = `/api/points/${camera.pointId}/watching`
  const before = await night()
  const said = await service.send('POST', path, { night: NIGHT, share: 0.5, note: 'sat there till midnight' })
  expect(said.status).toBe(201)
  expect(await night()).toMatchObject({
    watched: 0.5,
    byHand: true,
    words: [{ share: 0.5, note: 'sat there till midnight' }],
  })
  await service.send('POST', path, { night: NIGHT, share: null })
  expect(await night()).toMatchObject({
    watched: before.watched,
    byHand: false,
    words: [{ share: null }, {}],
  })
  expect(problemOf(await service.send('POST', path, { night: '2027-01-01', share: 1 }), 400).field).toBe(
    'night',
  )
  problemOf(await service.send('POST', path, { night: NIGHT, share: 2 }), 400)
  problemOf(await service.send('POST', '/api/points/999/watching', { night: NIGHT, share: 1 }), 404)
  problemOf(await service.ask(`${path}?from=2026-11-24&to=2020-11-24`), 400)
})
