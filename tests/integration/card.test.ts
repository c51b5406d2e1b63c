/** A card's files at the doors: what came before, one file at a time, and what is refused. */
import { createHash } from 'node:crypto'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { cardKnownAnswer, cardPhotoAnswer } from '../../services/http/card-doors.ts'
import { photoTakenAt, plainPhoto } from './photos.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addCamera, openStationWithCamera } from './station.ts'

let service: TestService
let wren: SetUpCamera
let other: SetUpCamera

beforeAll(async () => {
  ;({ service, camera: wren } = await openStationWithCamera())
  other = await addCamera(service, { name: 'Other camera', pointId: wren.pointId })
})
afterAll(() => service?.stop())

const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex')
const put = (bytes: Buffer, headers: Record<string, string> = {}, id = wren.id) =>
  service.ask(`/api/cameras/${id}/card`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/octet-stream', ...headers },
    body: new Uint8Array(bytes),
  })
const known = async (hashes: readonly string[], id = wren.id) =>
  strictly(cardKnownAnswer, await service.send('POST', `/api/cameras/${id}/card/known`, { hashes })).known

test('a file comes in once, without a key, and is known by its bytes from then on', async () => {
  const bytes = await photoTakenAt('galah-well-04.jpg', '2026-03-03T00:15:00+10:30')
  expect(await known([hashOf(bytes)])).toEqual([])
  const first = await put(bytes, { 'X-File-Name': 'DCIM%2F100%2Fa.jpg' })
  expect(first.status).toBe(201)
  expect(strictly(cardPhotoAnswer, first).photo).toMatchObject({
    known: false,
    takenAt: '2026-03-03T00:15:00+10:30',
    takenFrom: 'exif with offset',
  })
  const again = await put(bytes)
  expect(again.status).toBe(200)
  expect(strictly(cardPhotoAnswer, again).photo.known).toBe(true)
  expect(await known([hashOf(bytes), 'ab'.repeat(32)])).toMatchObject([
    { hash: hashOf(bytes), photo: { known: true, takenAt: '2026-03-03T00:15:00+10:30' } },
  ])
})

test('one that another camera sent is not this one’s', async () => {
  const bytes = await photoTakenAt('galah-well-04.jpg', '2026-03-04T00:15:00+10:30')
  await put(bytes, {}, other.id)
  expect(await known([hashOf(bytes)])).toEqual([])
})

test('without a date of its own a photo has its file’s', async () => {
  const at = Date.parse('2026-03-05T10:00:00+10:30')
  const answer = await put(await plainPhoto('galah-well-01.jpg'), { 'X-File-Time': String(at) })
  expect(strictly(cardPhotoAnswer, answer).photo).toMatchObject({
    takenAt: '2026-03-05T10:00:00+10:30',
    takenFrom: 'file time',
  })
})

test('one whose bytes are not there any more while it waits is asked for again', async () => {
  const bytes = Buffer.concat([await photoTakenAt('galah-well-04.jpg', '2026-03-06T00:15:00+10:30')])
  await put(bytes)
  const hash = createHash('sha256').update(bytes).digest()
  await service.waitUntilRead()
  await service.house.ledger
    .updateTable('stills')
    .set({ state: 'received' })
    .where('hash', '=', hash)
    .execute()
  await service.house.files.drop(hash)
  expect(await known([hashOf(bytes)])).toEqual([])
})

test('how many a camera may send in a day does not hold for its card', async () => {
  const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: 1, stillsADay: 1 }
  await service.send('PUT', '/api/intake-limits', limits)
  for (const minute of ['01', '02', '03']) {
    const bytes = await photoTakenAt('galah-well-04.jpg', `2026-03-07T00:${minute}:00+10:30`)
    expect((await put(bytes)).status).toBe(201)
  }
  // Nor does it use up what the camera itself may send.
  const sent = await photoTakenAt('galah-well-04.jpg', '2026-03-07T00:09:00+10:30')
  service.passHours(24)
  await put(await photoTakenAt('galah-well-04.jpg', '2026-03-07T00:08:00+10:30'))
  expect((await service.post('/api/stills', wren, sent)).status).toBe(201)
  const next = await photoTakenAt('galah-well-04.jpg', '2026-03-07T00:10:00+10:30')
  expect((await service.post('/api/stills', wren, next)).status).toBe(429)
})

test('what is refused, and at which field', async () => {
  expect(problemOf(await put(Buffer.from('x'), { 'X-File-Time': 'soon' }), 400).field).toBe('X-File-Time')
  problemOf(await put(Buffer.from('x'), {}, 999), 404)
  const ask = (body: object) => service.send('POST', `/api/cameras/${wren.id}/card/known`, body)
  expect(problemOf(await ask({ hashes: [] }), 400).field).toBe('hashes')
  expect(problemOf(await ask({ hashes: ['abc'] }), 400).field).toBe('hashes.0')
  expect(problemOf(await ask({ hashes: Array(501).fill('ab'.repeat(32)) }), 400).field).toBe('hashes')
  const form = new FormData()
  form.append('a', new Blob(['x']), 'a.jpg')
  form.append('b', new Blob(['y']), 'b.jpg')
  problemOf(await service.ask(`/api/cameras/${wren.id}/card`, { method: 'POST', body: form }), 400)
})

test('a page of another site can put nothing in', async () => {
  problemOf(await put(Buffer.from('x'), { Origin: 'https://elsewhere.example' }), 403)
})
