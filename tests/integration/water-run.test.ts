/** The words of the water run as hours go by: the tests of this file follow one another on one clock. */
import { afterAll, beforeAll, expect, test } from 'vitest'
import { normalAnswer } from '../../services/http/cattle-shapes.ts'
import { waterRunAnswer } from '../../services/http/shapes.ts'
import { photoTakenAt } from './photos.ts'
import { MORNING, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addCamera, addPoint, addPointWithCamera, openStation } from './station.ts'

let service: TestService
let lark: SetUpCamera
let plover: SetUpCamera
let bare: number
const rowOf = async (pointId: number) => {
  const { rows } = strictly(waterRunAnswer, await service.ask('/api/water-run'))
  return rows.find(({ point }) => point.id === pointId)!
}
const beat = (camera: SetUpCamera) => service.post('/api/heartbeats', camera, Buffer.alloc(0))

beforeAll(async () => {
  service = await openStation()
  lark = await addPointWithCamera(service, { name: 'Lark Dam', kind: 'dam' })
  plover = await addPointWithCamera(service, { name: 'Plover Soak', kind: 'soak' })
  bare = await addPoint(service, { name: 'Magpie Trough', kind: 'trough' })
})
afterAll(() => service?.stop())

test('a point without a camera, and one whose camera never spoke', async () => {
  expect(await rowOf(bare)).toMatchObject({
    camera: 'none',
    watched: null,
    cattle: { state: 'never seen' },
  })
  expect(await rowOf(lark.pointId)).toMatchObject({ camera: 'new', lastContactAt: null, lastPhoto: null })
})
test('cattle seen now are in; water nobody spoke of is not seen', async () => {
  for (const camera of [lark, plover]) {
    await service.post('/api/stills', camera, await photoTakenAt('galah-well-04.jpg', MORNING))
  }
  await service.waitUntilRead()
  expect(await rowOf(lark.pointId)).toMatchObject({
    camera: 'watching',
    cattle: { state: 'in', lastSeenAt: MORNING },
    water: { state: 'not seen', at: null },
  })
})
test('two cameras at a point, one of them silent too long: some down', async () => {
  const second = await addCamera(service, {
    name: 'Lark far camera',
    pointId: lark.pointId,
    expectedSilenceHours: 1,
  })
  await service.tell('/api/heartbeats', second, { at: '2026-11-25T05:00:00+10:30' })
  expect((await rowOf(lark.pointId)).camera).toBe('some down')
  await beat(second)
  expect((await rowOf(lark.pointId)).camera).toBe('watching')
})
test('silent for its expected 26 h a camera is watching, a minute longer and it is down', async () => {
  await service.send('POST', `/api/points/${bare}/states`, { kind: 'water good' })
  await service.send('POST', `/api/points/${lark.pointId}/states`, { kind: 'water off' })
  service.passHours(26)
  expect((await rowOf(plover.pointId)).camera).toBe('watching')
  service.passHours(1 / 60)
  expect((await rowOf(plover.pointId)).camera).toBe('down')
  service.passHours(-2 - 1 / 60)
  await beat(lark)
})
test('a word on water holds for 48 h and then is not seen; off stays off', async () => {
  // 24 h after the words were said, and a day more.
  service.passHours(24)
  await beat(lark)
  expect((await rowOf(bare)).water).toMatchObject({ state: 'good', at: MORNING, source: 'tap' })
  service.passHours(1 / 60)
  expect((await rowOf(bare)).water).toMatchObject({ state: 'not seen' })
  expect((await rowOf(lark.pointId)).water).toMatchObject({ state: 'off', at: MORNING })
})
test('cattle unseen for the owner’s 72 h are in until then', async () => {
  service.passHours(24 - 1 / 60)
  await beat(lark)
  expect((await rowOf(lark.pointId)).cattle.state).toBe('in')
})
test('after 72 watched hours they are not in; where the camera was down nobody can say', async () => {
  service.passHours(1)
  await beat(lark)
  // Somebody turned the water off there: away with good reason, and an alarm once it is on again.
  expect((await rowOf(lark.pointId)).cattle).toMatchObject({
    state: 'away',
    because: { kind: 'water off', at: MORNING, stops: true },
  })
  await service.send('POST', `/api/points/${lark.pointId}/states`, { kind: 'water good' })
  expect((await rowOf(lark.pointId)).cattle).toMatchObject({
    state: 'not in',
    lastSeenAt: MORNING,
    because: null,
    limit: { hours: 72, longestHours: 72, learned: null },
  })
  expect((await rowOf(plover.pointId)).cattle).toMatchObject({ state: 'not watched', lastSeenAt: MORNING })
})
test('normal can be said of watched hours only, and goes no further than the owner’s longest', async () => {
  const said = await service.send('POST', `/api/points/${lark.pointId}/normal`, { who: 'Ash' })
  expect(said.status).toBe(201)
  const { normal } = strictly(normalAnswer, said)
  expect(normal.silentHours).toBeCloseTo(73, 0)
  expect((await rowOf(lark.pointId)).cattle).toMatchObject({ state: 'not in', limit: { hours: 72 } })
  for (const pointId of [plover.pointId, bare])
    expect((await service.send('POST', `/api/points/${pointId}/normal`, {})).status).toBe(409)
})
test('seen again, they are in', async () => {
  await service.post(
    '/api/stills',
    lark,
    await photoTakenAt('galah-well-04.jpg', '2026-11-28T07:00:00+10:30'),
  )
  await service.waitUntilRead()
  expect((await rowOf(lark.pointId)).cattle.state).toBe('in')
})
