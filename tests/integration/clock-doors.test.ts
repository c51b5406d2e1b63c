/** Times put right and cameras moved, over the API: seen before, done, undone, refused with words. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import {
  cameraTimesAnswer,
  shiftAnswer,
  shiftPreview,
  shiftsAnswer,
  stillTimeAnswer,
} from '../../services/http/clock-shapes.ts'
import { stillPage, waterRunAnswer } from '../../services/http/shapes.ts'
import { builtFile } from '../../services/paths.ts'
import { until } from '../faults/service-process.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPoint, addPointWithCamera, camerasNow, openStation } from './station.ts'
import { photoLike } from './stub-photos.ts'

const NOW = '2026-11-25T06:10:00+10:30'
/** Clocks in Adelaide were put back at 3:00 on 5 April 2026 (IANA time zone database). */
const TWICE = 'IMG_20260405_023000.jpg'
let service: TestService
let camera: SetUpCamera

beforeAll(async () => {
  service = await openStation({ surroundings: { eyeEntry: builtFile('tests/stub-eye.js') } })
  service.setClock(NOW)
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  const names = [TWICE, 'IMG_20261124_213000.jpg', 'IMG_20261124_214500.jpg', 'IMG_20261126_013000.jpg']
  for (const name of names)
    await service.post('/api/stills', camera, await photoLike(name), { 'X-File-Name': name })
  await service.waitUntilRead()
})
afterAll(() => service.stop())

const photos = async () => strictly(stillPage, await service.ask('/api/stills?limit=200')).stills.toReversed()
const photoOf = async (at: string) => (await photos()).find(({ takenAt }) => takenAt.startsWith(at))!
const timeOf = async (id: number) => strictly(stillTimeAnswer, await service.ask(`/api/stills/${id}/time`))
const placed = () =>
  until('photos are in their places', async () => {
    const { placing } = strictly(shiftsAnswer, await service.ask('/api/shifts'))
    return placing.length === 0
  })
const encoded = (time: string) => time.replace('+', '%2B')

it('a day too late is seen, put right with all photos of the camera, and undone', async () => {
  const ahead = await photoOf('2026-11-26T01:30')
  expect(ahead.clockDoubt).toBe('the clock is in the future')
  const takenAt = '2026-11-25T01:30:00+10:30'
  const query = `still=${ahead.id}&takenAt=${encoded(takenAt)}&run=from here`
  const preview = strictly(shiftPreview, await service.ask(`/api/shifts/preview?${query}`))
  expect(preview).toMatchObject({ photos: 1, seconds: -86_400, inDoubt: 1, inDoubtAfter: 0 })
  expect(preview.photo).toEqual({ stillId: ahead.id, before: ahead.takenAt, after: takenAt })
  const body = { stillId: ahead.id, takenAt, run: 'from here', note: 'a day ahead' }
  const made = await service.send('POST', '/api/shifts', body)
  expect(made.status).toBe(201)
  const { shift } = strictly(shiftAnswer, made)
  await placed()
  expect(await photoOf('2026-11-25T01:30')).toMatchObject({
    id: ahead.id,
    clockDoubt: null,
    night: '2026-11-24',
  })
  expect(await timeOf(ahead.id)).toMatchObject({ saidAt: ahead.takenAt, shifts: [{ note: 'a day ahead' }] })
  expect(await keptAggregates(service.house.ledger)).toEqual(await recountFromNothing(service.house.ledger))
  const undone = strictly(shiftAnswer, await service.send('POST', `/api/shifts/${shift.id}/undo`, {}))
  expect(undone.shift.undone).not.toBeNull()
  await placed()
  expect(await photoOf('2026-11-26T01:30')).toEqual(ahead)
  expect((await timeOf(ahead.id)).shifts).toEqual([])
})

it('of a time that the clock showed twice the other can be taken', async () => {
  const photo = await photoOf('2026-04-05T02:30')
  expect(photo.takenAt).toBe('2026-04-05T02:30:00+10:30')
  const { otherMeaning } = await timeOf(photo.id)
  expect(otherMeaning).toBe('2026-04-05T02:30:00+09:30')
  expect((await timeOf((await photoOf('2026-11-24T21:30')).id)).otherMeaning).toBeNull()
  await service.send('POST', '/api/shifts', { stillId: photo.id, takenAt: otherMeaning, run: 'photo' })
  await placed()
  expect((await photos()).find(({ id }) => id === photo.id)?.takenAt).toBe(otherMeaning)
  expect((await timeOf(photo.id)).otherMeaning).toBe(photo.takenAt)
})

it('a run that would end in the future is refused at its time', async () => {
  const photo = await photoOf('2026-11-24T21:30')
  const body = { stillId: photo.id, takenAt: '2026-11-25T06:00:00+10:30', run: 'from here' }
  const problem = problemOf(await service.send('POST', '/api/shifts', body), 400)
  expect(problem).toMatchObject({ field: 'takenAt' })
  expect(problem.detail).toMatch(/still to come/)
  problemOf(await service.send('POST', '/api/shifts', { ...body, stillId: 999_999 }), 404)
  problemOf(await service.send('POST', '/api/shifts', { ...body, run: 'some' }), 400)
  problemOf(await service.send('POST', '/api/shifts/999/undo', {}), 404)
})

it('a camera is moved later as if it had been said in time, and taken down is missed by nobody', async () => {
  const elsewhere = await addPoint(service, { name: 'Swift Tank' })
  const before = strictly(cameraTimesAnswer, await service.ask(`/api/cameras/${camera.id}/times`))
  expect(before.times).toMatchObject([{ pointName: 'Wren Bore', from: null, to: null }])
  const times = [
    { pointId: camera.pointId, from: null, to: '2026-11-24T21:40:00+10:30' },
    { pointId: elsewhere, from: '2026-11-24T21:40:00+10:30', to: null },
  ]
  const moved = await service.send('PUT', `/api/cameras/${camera.id}/times`, { times, note: 'said late' })
  expect(strictly(cameraTimesAnswer, moved).changes).toMatchObject([{ note: 'said late' }])
  await placed()
  expect((await photoOf('2026-11-24T21:30')).pointId).toBe(camera.pointId)
  expect((await photoOf('2026-11-24T21:45')).pointId).toBe(elsewhere)
  expect(await keptAggregates(service.house.ledger)).toEqual(await recountFromNothing(service.house.ledger))
  const down = [times[0], { ...times[1], to: '2026-11-25T06:00:00+10:30' }]
  await service.send('PUT', `/api/cameras/${camera.id}/times`, { times: down })
  await placed()
  service.passHours(100)
  expect(await camerasNow(service)).toMatchObject([{ up: false, down: false }])
  const { rows } = strictly(waterRunAnswer, await service.ask('/api/water-run'))
  expect(rows.map((row) => row.camera)).toEqual(['none', 'none'])
})

it('times that are mixed up, or still to come, are refused at their place in the list', async () => {
  const put = (times: readonly object[]) => service.send('PUT', `/api/cameras/${camera.id}/times`, { times })
  const { pointId } = camera
  const open = { pointId, from: null, to: null }
  expect(problemOf(await put([open, open]), 400).field).toBe('times.1.from')
  const later = { pointId, from: '2027-11-24T21:40:00+10:30', to: null }
  expect(problemOf(await put([later]), 400).field).toBe('times.0.from')
  problemOf(await put([{ ...open, pointId: 999 }]), 404)
  problemOf(await put([]), 400)
})
