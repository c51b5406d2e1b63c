/** A camera's address, asked on a schedule: every way it can answer, and what is told of it. */
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { demoStillsFolder } from '../../services/paths.ts'
import { saveIntakeLimits } from '../../services/store/intake-limits.ts'
import { type CameraServer, gives, startCamera, wantsBasic, wantsDigest } from './camera-server.ts'
import { makeCertificate, noOpenssl } from './own-certificate.ts'
import { openSourceStation, type SourceStation } from './source-place.ts'
import { photoLike } from './stub-photos.ts'

const USER = 'gate'
const PASSWORD = 'dry creek ü'

let station: SourceStation
let camera: CameraServer
let made = 0
let photo: Buffer

beforeAll(async () => {
  station = await openSourceStation({ cameraHosts: ['127.0.0.1'] })
  camera = await startCamera()
})
afterAll(async () => {
  await camera.close()
  await station.close()
})
beforeEach(async () => {
  made += 1
  photo = await photoLike(`snapshot ${made}`)
  await station.ledger.deleteFrom('camera_sources').execute()
})

const open = (settings: object = {}) => station.add('snapshot', { address: camera.address, ...settings })
const withPassword = { user: USER, password: PASSWORD }
const count = async () => (await station.stills()).length
/** The next photo is one of its own. */
const another = async () => {
  made += 1
  photo = await photoLike(`snapshot ${made}`)
}
const minutesToNext = async (id: number) =>
  ((await station.source(id)).next_at!.getTime() - station.now()) / 60_000
const due = async (id: number) => station.pass((await minutesToNext(id)) * 60 + 1)

describe('names and passwords', () => {
  test('none is needed: the photo is kept, and its time is that of the request', async () => {
    camera.handle(gives(() => photo))
    const before = await count()
    const tried = await station.tryNow(await open())
    expect(tried).toMatchObject({ outcome: 'well', words: null })
    expect(tried.came[0]).toMatchObject({ takenFrom: 'arrival', takenAt: station.now() })
    expect(await count()).toBe(before + 1)
  })
  test('Basic: sent only where it is asked for', async () => {
    camera.handle(
      wantsBasic(
        USER,
        PASSWORD,
        gives(() => photo),
      ),
    )
    expect((await station.tryNow(await open(withPassword))).outcome).toBe('well')
    expect(camera.seen.map(({ authorization }) => authorization?.split(' ')[0])).toEqual([undefined, 'Basic'])
  })
  test.each(['MD5', 'SHA-256'] as const)(
    'Digest with %s: one nonce serves on, each time counted',
    async (algorithm) => {
      camera.handle(wantsDigest(USER, PASSWORD, { algorithm, right: gives(() => photo) }))
      const id = await open(withPassword)
      for (let turn = 0; turn < 3; turn += 1) {
        expect((await station.tryNow(id)).outcome).toBe('well')
        await another()
      }
      const counts = camera.seen.map(({ authorization }) => /nc=(\w+)/.exec(authorization ?? '')?.[1])
      expect(counts).toEqual([undefined, '00000001', '00000002', '00000003'])
    },
  )
  test('a nonce that is old: a new one is taken, and nothing is refused', async () => {
    camera.handle(wantsDigest(USER, PASSWORD, { algorithm: 'SHA-256', uses: 2, right: gives(() => photo) }))
    const id = await open(withPassword)
    for (let turn = 0; turn < 5; turn += 1) {
      expect((await station.tryNow(id)).outcome).toBe('well')
      await another()
    }
  })
  test('a camera that forgot its nonces by a restart is asked anew', async () => {
    const asks = () => wantsDigest(USER, PASSWORD, { algorithm: 'MD5', right: gives(() => photo) })
    camera.handle(asks())
    const id = await open(withPassword)
    expect((await station.tryNow(id)).outcome).toBe('well')
    await another()
    camera.handle(asks())
    expect((await station.tryNow(id)).outcome).toBe('well')
  })
  test('a wrong password is sent once, told in words without it, and tried seldom', async () => {
    for (const asks of [
      wantsBasic(
        USER,
        'another',
        gives(() => photo),
      ),
      wantsDigest(USER, 'another', { algorithm: 'MD5', right: gives(() => photo) }),
    ]) {
      camera.handle(asks)
      const id = await open(withPassword)
      await station.round()
      expect(camera.seen.filter(({ authorization }) => authorization !== undefined)).toHaveLength(1)
      const { last_reason } = await station.source(id)
      expect(last_reason).toBe('The camera does not take the name and the password.')
      expect(await minutesToNext(id)).toBe(10)
      await due(id)
      await station.round()
      expect(await minutesToNext(id)).toBe(20)
      await station.ledger.deleteFrom('camera_sources').execute()
    }
    expect(station.log.join()).not.toContain('creek')
  })
  test('a camera that asks and asks is not answered without an end', async () => {
    const header = () => ({
      'WWW-Authenticate': `Digest realm="x", nonce="${Math.random()}", qop="auth", stale=true`,
    })
    camera.handle((_request, response) => response.writeHead(401, header()).end())
    const tried = await station.tryNow(await open(withPassword))
    expect(tried.words).toBe('The camera asks for the password again and again.')
    expect(camera.seen.length).toBeLessThan(6)
  })
  test('no name was given; and a kind of password that is not known', async () => {
    camera.handle(
      wantsBasic(
        USER,
        PASSWORD,
        gives(() => photo),
      ),
    )
    expect((await station.tryNow(await open())).words).toBe('The camera asks for a name and a password.')
    camera.handle((_request, response) => response.writeHead(401, { 'WWW-Authenticate': 'Negotiate' }).end())
    expect((await station.tryNow(await open(withPassword))).words).toMatch(/a kind of password/)
  })
})

describe('answers that are no photo', () => {
  const cases: Array<readonly [string, Parameters<CameraServer['handle']>[0], RegExp]> = [
    ['a web page', (_q, r) => r.writeHead(200).end('<!DOCTYPE html>Log in'), /no photo to keep: a web page/],
    ['nothing', (_q, r) => r.writeHead(200).end(), /the file is empty/],
    ['half a photo that calls itself whole', (_q, r) => r.writeHead(200).end(half()), /no photo to keep/],
    [
      'a connection that ends in the middle',
      (_q, r) => {
        r.writeHead(200, { 'Content-Length': '100000' }).write(photo)
        setTimeout(() => r.destroy(), 30)
      },
      /broke the connection off|ended before the photo was whole/,
    ],
    [
      'chunks that end in the middle',
      (_q, r) => {
        r.writeHead(200).write(photo.subarray(0, 200))
        setTimeout(() => r.destroy(), 30)
      },
      /broke the connection off|ended before the photo was whole/,
    ],
    ['a reset', (q) => q.socket.resetAndDestroy(), /broke the connection off/],
    ['what is not http', (q) => q.socket.end('SSH-2.0-dropbear\r\n'), /does not speak http/],
    ['404', (_q, r) => r.writeHead(404).end(), /answered 404 \(Not Found\)/],
    ['503', (_q, r) => r.writeHead(503, { 'Retry-After': '7200' }).end(), /answered 503/],
    [
      'a moving picture',
      (_q, r) => r.writeHead(200, { 'Content-Type': 'multipart/x-mixed-replace; boundary=x' }).write('--x'),
      /moving picture/,
    ],
  ]
  const half = () => photo.subarray(0, Math.floor(photo.length / 2))

  test.each(cases)('%s', async (_name, handler, words) => {
    camera.handle(handler)
    const before = await count()
    const id = await open()
    await station.round()
    const source = await station.source(id)
    expect(source.last_reason).toMatch(words)
    expect(source.failures).toBe(1)
    expect(await count()).toBe(before)
    expect(await minutesToNext(id)).toBe(_name === '503' ? 120 : 1)
  })
  test('one that never comes: the time-out', async () => {
    camera.handle(() => undefined)
    const tried = await station.tryNow(await open({ timeoutSeconds: 1 }))
    expect(tried.words).toBe('The camera did not send a whole photo within 1 second.')
  })
  test('one that drips: the same', async () => {
    camera.handle((_request, response) => {
      response.writeHead(200, { 'Content-Length': String(photo.length) })
      const drip = setInterval(() => response.write('x'), 50)
      response.on('close', () => clearInterval(drip))
    })
    expect((await station.tryNow(await open({ timeoutSeconds: 1 }))).words).toMatch(/within 1 second/)
  })
  test('one without an end: no more is read than a photo may have', async () => {
    await saveIntakeLimits(station.ledger, {
      stillMegabytes: 1,
      megapixels: 100,
      stillsAMinute: null,
      stillsADay: null,
    })
    camera.handle((_request, response) => {
      response.writeHead(200)
      const more = () => {
        while (!response.destroyed && response.write(Buffer.alloc(65_536)));
      }
      response.on('drain', more)
      more()
    })
    expect((await station.tryNow(await open())).words).toBe('The photo is over the limit of 1 MB.')
    await saveIntakeLimits(station.ledger, {
      stillMegabytes: 30,
      megapixels: 100,
      stillsAMinute: null,
      stillsADay: null,
    })
  })
  test('nobody there, and nobody of that name', async () => {
    const gone = await startCamera()
    await gone.close()
    expect((await station.tryNow(await open({ address: gone.address }))).words).toMatch(
      /nothing listens there/,
    )
    const words = (await station.tryNow(await open({ address: 'http://no-such-camera.invalid/' }))).words
    expect(words).toMatch(/This name is not known|could not be looked up/)
  })
  test('failures in a row are tried later and later, and a photo ends them', async () => {
    camera.handle((_request, response) => response.writeHead(500).end())
    const id = await open()
    const waits = []
    for (let turn = 0; turn < 4; turn += 1) {
      await station.round()
      waits.push(await minutesToNext(id))
      await due(id)
    }
    expect(waits).toEqual([1, 2, 4, 8])
    camera.handle(gives(() => photo))
    await station.round()
    expect(await station.source(id)).toMatchObject({ failures: 0, last_reason: null })
    expect(await minutesToNext(id)).toBe(15)
  })
})

describe('no further than that host', () => {
  test('sent on to another page of its own, it is followed; in a ring, it is not', async () => {
    camera.handle((request, response) => {
      if (request.url === '/new.jpg') return gives(() => photo)(request, response)
      response.writeHead(302, { Location: '/new.jpg' }).end()
    })
    expect((await station.tryNow(await open())).outcome).toBe('well')
    camera.handle((_request, response) => response.writeHead(302, { Location: '/snap.jpg' }).end())
    expect((await station.tryNow(await open())).words).toMatch(/without an end/)
  })
  test('sent on to another host or port, it is not, and the password stays here', async () => {
    const other = await startCamera()
    other.handle(gives(() => photo))
    camera.handle((_request, response) => response.writeHead(302, { Location: other.address }).end())
    const tried = await station.tryNow(await open(withPassword))
    expect(tried.words).toMatch(/another host: that is not followed/)
    expect(other.connections()).toBe(0)
    await other.close()
  })
  test('without the operator’s leave nothing of this machine is asked', async () => {
    const closed = await openSourceStation()
    camera.handle(gives(() => photo))
    const before = camera.connections()
    for (const host of [
      '127.0.0.1',
      'localhost',
      '0177.0.0.1',
      '[::ffff:127.0.0.1]',
      '0.0.0.0',
      '2130706433',
    ]) {
      const id = await closed.add('snapshot', { address: `http://${host}:${camera.port}/snap.jpg` })
      expect((await closed.tryNow(id)).words).toMatch(
        /has no leave to ask there\. Start it with --camera-host/,
      )
    }
    expect(camera.connections()).toBe(before)
    await closed.close()
  })
  test('a name that is another address a moment later leads nowhere else (DNS rebinding)', async () => {
    let asked = 0
    const rebinding = await openSourceStation({
      // The first address is allowed and nobody listens there; the second is the machine's own.
      cameraHosts: ['127.0.0.77'],
      lookUp: async () => {
        asked += 1
        return [{ address: asked === 1 ? '127.0.0.77' : '127.0.0.1' }]
      },
    })
    camera.handle(gives(() => photo))
    const before = camera.connections()
    const id = await rebinding.add('snapshot', { address: `http://camera.example:${camera.port}/` })
    expect((await rebinding.tryNow(id)).words).toMatch(/nothing listens there/)
    expect(asked).toBe(1)
    expect((await rebinding.tryNow(id)).words).toMatch(/camera\.example \(127\.0\.0\.1\)/)
    expect(camera.connections()).toBe(before)
    await rebinding.close()
  })
})

describe.skipIf(noOpenssl !== null)(`https${noOpenssl === null ? '' : ` (skipped: ${noOpenssl})`}`, () => {
  let own: CameraServer
  let sha256: string
  beforeAll(async () => {
    const certificate = makeCertificate()
    sha256 = certificate.sha256
    own = await startCamera(certificate)
  })
  afterAll(() => own.close())
  const openOwn = (settings: object = {}) => open({ address: own.address, ...settings })

  test('a certificate that nobody vouches for: nothing is sent, and the words hold its fingerprint', async () => {
    own.handle(gives(() => photo))
    const { words } = await station.tryNow(await openOwn(withPassword))
    expect(words).toMatch(/is not to be trusted/)
    expect(words).toContain(sha256)
    expect(own.seen).toEqual([])
  })
  test('pinned, it is trusted, whoever vouches for it', async () => {
    own.handle(wantsDigest(USER, PASSWORD, { algorithm: 'SHA-256', right: gives(() => photo) }))
    const tried = await station.tryNow(await openOwn({ ...withPassword, certificateSha256: sha256 }))
    expect(tried).toMatchObject({ outcome: 'well', words: null })
  })
  test('another than the pinned one: nothing is sent', async () => {
    own.handle(gives(() => photo))
    const tried = await station.tryNow(await openOwn({ certificateSha256: 'ab'.repeat(32) }))
    expect(tried.words).toMatch(/another certificate than the one that was set; nothing was sent/)
    expect(own.seen).toEqual([])
  })
  test('https to a camera that has none says so', async () => {
    camera.handle(gives(() => photo))
    const address = camera.address.replace('http:', 'https:')
    expect((await station.tryNow(await open({ address }))).words).toMatch(/does not speak https/)
  })
})

describe('only what changed', () => {
  const scene = (change: (picture: Sharp) => Sharp) =>
    change(sharp(join(demoStillsFolder, 'galah-well-00.jpg')))
      .jpeg({ quality: 80 })
      .toBuffer()
  const beast = Buffer.from(
    '<svg width="1280" height="720"><ellipse cx="640" cy="430" rx="70" ry="45" fill="#2a1c12"/></svg>',
  )
  const heartbeats = async () => (await station.ledger.selectFrom('heartbeats').select('at').execute()).length

  test('is kept; the rest is counted, proves that the camera is awake, and one is kept now and then', async () => {
    const settings = { onlyChanged: true, everyMinutes: 10, keepEveryMinutes: 60 }
    const id = await open(settings)
    camera.handle(gives(() => photo))
    const before = [await count(), await heartbeats()]
    const told = []
    for (let turn = 0; turn < 9; turn += 1) {
      // A little brighter each time; at the fourth turn a beast stands there.
      photo = await scene((picture) => {
        const lit = picture.linear(1, turn)
        return turn === 3 ? lit.composite([{ input: beast }]) : lit
      })
      await station.round()
      const source = await station.source(id)
      told.push([(await count()) - before[0]!, (source.state as { notKept: number }).notKept])
      await due(id)
    }
    // Kept: the first; the beast; the scene without it; none of the five after.
    expect(told).toEqual([
      [1, 0],
      [1, 1],
      [1, 2],
      [2, 0],
      [3, 0],
      [3, 1],
      [3, 2],
      [3, 3],
      [3, 4],
    ])
    expect((await heartbeats()) - before[1]!).toBeGreaterThanOrEqual(2)
    for (let turn = 9; turn < 12; turn += 1) {
      photo = await scene((picture) => picture.linear(1, turn))
      await station.round()
      await due(id)
    }
    expect((await count()) - before[0]!).toBe(4)
  })
  test('goes on after a restart from what was kept last', async () => {
    const id = await open({ onlyChanged: true, keepEveryMinutes: 1_440 })
    camera.handle(gives(() => photo))
    photo = await scene((picture) => picture.linear(1.01, 0))
    await station.round()
    const before = await count()
    await due(id)
    await station.restart()
    photo = await scene((picture) => picture.linear(1.02, 0))
    await station.round()
    expect(await count()).toBe(before)
  })
})

test('the very same picture again and again: the camera hangs, and that is told', async () => {
  camera.handle(gives(() => photo))
  const id = await open()
  const reasons = []
  for (let turn = 0; turn < 5; turn += 1) {
    await station.round()
    reasons.push((await station.source(id)).last_reason)
    await due(id)
  }
  expect(reasons.slice(0, 3)).toEqual([null, null, null])
  expect(reasons[3]).toBe('The camera has sent the very same picture 4 times: it hangs, or keeps an old one.')
})

test('a clock that is set back holds no camera up', async () => {
  camera.handle(gives(() => photo))
  const id = await open()
  await station.round()
  station.pass(-2 * 3_600)
  await another()
  const before = await count()
  await station.round()
  expect(await count()).toBe(before + 1)
  expect(await minutesToNext(id)).toBe(15)
  station.pass(2 * 3_600)
})

test('over its limit nothing is fetched: it waits, and goes on when it may', async () => {
  const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: null, stillsADay: null }
  await station.ledger.updateTable('cameras').set({ day_began_at: null, day_stills: 0 }).execute()
  await saveIntakeLimits(station.ledger, { ...limits, stillsADay: 1 })
  camera.handle(gives(() => photo))
  const id = await open()
  await station.round()
  await another()
  await due(id)
  camera.handle(gives(() => photo))
  await station.round()
  const source = await station.source(id)
  expect(source.last_reason).toMatch(/as many photos as it may in a day \(1\)\. Nothing was fetched/)
  expect(source.failures).toBe(0)
  expect(camera.seen).toEqual([])
  // A day is long, but a limit may be raised.
  expect(await minutesToNext(id)).toBeLessThanOrEqual(15)
  await saveIntakeLimits(station.ledger, { ...limits, stillsADay: null })
  await due(id)
  await station.round()
  expect((await station.source(id)).last_reason).toBeNull()
})
