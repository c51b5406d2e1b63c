/** Senders on slow links: what comes in at once is bounded, and whoever stops sending is let go. */
import { once } from 'node:events'
import { type ClientRequest, type IncomingMessage, request } from 'node:http'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { builtFile } from '../../services/paths.ts'
import { until } from '../faults/service-process.ts'
import { problemOf, type SetUpCamera, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { photoLike } from './stub-photos.ts'

const MIB = 1024 ** 2
const ROOM_BYTES = 2 * MIB
const PATIENCE_MS = 3_000
let service: TestService
let camera: SetUpCamera

async function open(senderPatienceMs?: number): Promise<void> {
  service = await openStation({
    config: { receivingBytes: ROOM_BYTES },
    surroundings: {
      eyeEntry: builtFile('tests/stub-eye.js'),
      ...(senderPatienceMs !== undefined && { senderPatienceMs }),
    },
  })
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
}
beforeEach(() => open())
afterEach(() => service.stop())

/** A photo that begins to come; without `declaredBytes` its sender does not say how long it will be. */
function beginPhoto(declaredBytes: number | null, headers: Record<string, string> = {}): ClientRequest {
  const sending = request(`${service.address}/api/stills`, {
    method: 'POST',
    agent: false,
    headers: {
      'X-Camera-Key': camera.key,
      ...(declaredBytes !== null && { 'Content-Length': declaredBytes }),
      ...headers,
    },
  })
  sending.on('error', () => undefined)
  sending.flushHeaders()
  return sending
}

const answerTo = async (sending: ClientRequest) => ((await once(sending, 'response')) as [IncomingMessage])[0]
const held = () => service.house.receiving.heldBytes()
const heldIs = (bytes: number) => until(`${bytes} bytes are held`, async () => held() === bytes)
const stills = () => service.house.ledger.selectFrom('stills').select('bytes').execute()

it('a photo for which there is no room just now is refused with Retry-After, and taken once there is', async () => {
  const slow = beginPhoto(ROOM_BYTES - 10)
  await heldIs(ROOM_BYTES - 10)
  const photo = await photoLike('one')
  const refused = await service.post('/api/stills', camera, photo)
  expect(problemOf(refused, 503).detail).toContain('at once')
  expect(refused.headers.get('retry-after')).toMatch(/^\d+$/)

  slow.destroy()
  await heldIs(0)
  expect((await service.post('/api/stills', camera, photo)).status).toBe(201)
  expect(held()).toBe(0)
})

it('one that was let begin comes through, however many are turned away meanwhile', async () => {
  const slow = beginPhoto(ROOM_BYTES)
  slow.write(Buffer.alloc(ROOM_BYTES / 2, 7))
  await heldIs(ROOM_BYTES)
  for (let i = 0; i < 5; i += 1) {
    problemOf(await service.post('/api/stills', camera, await photoLike(`${i}`)), 503)
  }
  slow.end(Buffer.alloc(ROOM_BYTES / 2, 8))
  expect((await answerTo(slow)).statusCode).toBe(201)
  expect(await stills()).toEqual([{ bytes: ROOM_BYTES }])
})

it('a sender that does not say how much it sends is told in the middle, and nothing of it stays', async () => {
  const endless = beginPhoto(null)
  const answer = answerTo(endless)
  for (let sent = 0; sent <= ROOM_BYTES; sent += MIB / 2) endless.write(Buffer.alloc(MIB / 2, 7))
  const { statusCode, headers } = await answer
  expect([statusCode, headers['retry-after']]).toEqual([503, expect.stringMatching(/^\d+$/)])
  // It goes on sending: that is no longer held.
  endless.write(Buffer.alloc(MIB, 7))
  await heldIs(0)
  expect(await stills()).toEqual([])
  endless.destroy()
})

it('the files of a form count together, and a form that never fits is called too large', async () => {
  const form = { 'Content-Type': 'multipart/form-data; boundary=edge' }
  const slow = beginPhoto(null, form)
  slow.write('--edge\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n')
  slow.write(Buffer.alloc(MIB, 7))
  await until('half of it is held', async () => held() > MIB)
  const answer = answerTo(slow)
  slow.write('\r\n--edge\r\nContent-Disposition: form-data; name="photo"; filename="b.jpg"\r\n\r\n')
  slow.write(Buffer.alloc(MIB, 7))
  expect((await answer).statusCode).toBe(503)
  slow.destroy()

  const tooLarge = beginPhoto(ROOM_BYTES + 1, form)
  expect((await answerTo(tooLarge)).statusCode).toBe(413)
  tooLarge.destroy()
  expect(held()).toBe(0)
})

it('a link that breaks in the middle of a photo leaves nothing, and is no fault of ours in the log', async () => {
  for (const headers of [{}, { 'Content-Type': 'multipart/form-data; boundary=edge' }]) {
    const broken = beginPhoto(MIB, headers)
    broken.write(Buffer.alloc(MIB / 2, 7))
    await heldIs(MIB)
    broken.destroy()
    await heldIs(0)
  }
  expect(await stills()).toEqual([])
  expect(service.log.filter((line) => line.includes('/api/stills'))).toEqual([])
})

it('a sender that stops sending is told 408 and let go, and its room is free again', async () => {
  await service.stop()
  await open(PATIENCE_MS)
  const silent = beginPhoto(MIB)
  silent.write(Buffer.alloc(MIB / 2, 7))
  const { statusCode, headers } = await answerTo(silent)
  expect([statusCode, headers.connection]).toEqual([408, 'close'])
  await heldIs(0)
  expect(await stills()).toEqual([])
})
