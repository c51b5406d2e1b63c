/** The station as a remote worker reaches it: bytes are proved, links are followed without the key, faults are told apart. */
import { createHash } from 'node:crypto'
import { once } from 'node:events'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { createServer, type IncomingMessage, type RequestListener, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Float16Array } from '@petamoriken/float16'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { resultsDoor } from '../../../../services/http/doors.ts'
import { NotTheStillsFault } from '../../../../services/queue/queue.ts'
import type { Outcome } from '../../../../services/queue/station-of-worker.ts'
import { Refusal } from '../../../../services/refusal.ts'
import { placeOf } from '../../../../services/store/still-files.ts'
import { openStillFolder } from '../../../../services/store/still-folder.ts'
import { readStill } from '../../../../worker/read-still.ts'
import { remoteStation } from '../../../../worker/remote/station.ts'

const models = {
  name: 'made-up',
  version: '1',
  detectorSha256: 'd'.repeat(64),
  namerSha256: 'a'.repeat(64),
}
const STILL = { stillId: 7, urgency: 'old' } as const
const BYTES = Buffer.from('the bytes of a photo')
const HASH = createHash('sha256').update(BYTES).digest('hex')

const servers: Server[] = []
afterEach(() => {
  for (const server of servers.splice(0)) server.close()
})

async function serve(answer: RequestListener): Promise<string> {
  const server = createServer(answer)
  servers.push(server)
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}

const stationAt = (api: string) =>
  remoteStation({ api, key: 'secret', name: 'shed', version: '1', models, stillFolder: null })

const textOf = async (request: IncomingMessage) => {
  let text = ''
  for await (const part of request) text += String(part)
  return text
}

it('fetches the bytes with its key, and proves them', async () => {
  let key: unknown
  const api = await serve((request, response) => {
    key = request.headers['x-worker-key']
    response.writeHead(200, { 'X-Still-SHA256': HASH, 'X-Still-Tiles': 'yes' }).end(BYTES)
  })
  expect(await stationAt(api).take(STILL)).toEqual({ bytes: new Uint8Array(BYTES), tiles: true })
  expect(key).toBe('secret')
})

it('follows a link to where the bytes lie, without the key', async () => {
  let headers: IncomingMessage['headers'] = {}
  const store = await serve((request, response) => {
    headers = request.headers
    response.end(BYTES)
  })
  const api = await serve((_request, response) => {
    response.writeHead(302, { Location: `${store}/whole/7?signed`, 'X-Still-SHA256': HASH }).end()
  })
  expect(await stationAt(api).take(STILL)).toEqual({ bytes: new Uint8Array(BYTES), tiles: false })
  expect(headers['x-worker-key']).toBeUndefined()
})

it('bytes that are not what came are the photo’s fault', async () => {
  const api = await serve((_request, response) => {
    response.writeHead(200, { 'X-Still-SHA256': HASH }).end('others')
  })
  const fault = await stationAt(api)
    .take(STILL)
    .catch((thrown: unknown) => thrown)
  expect(fault).toBeInstanceOf(Error)
  expect(fault).not.toBeInstanceOf(NotTheStillsFault)
  expect(String(fault)).toContain(`expected ${HASH}`)
})

it('nothing comes for a photo that no longer waits', async () => {
  const api = await serve((_request, response) => response.writeHead(204).end())
  expect(await stationAt(api).take(STILL)).toBeNull()
})

it.each([502, 503, 504])(
  '%d says that the station is away, not that the photo is at fault',
  async (status) => {
    const api = await serve((_request, response) => response.writeHead(status).end())
    await expect(stationAt(api).take(STILL)).rejects.toBeInstanceOf(NotTheStillsFault)
  },
)

it('a connection that breaks off says so too', async () => {
  const api = await serve((request) => request.socket.destroy())
  await expect(stationAt(api).take(STILL)).rejects.toBeInstanceOf(NotTheStillsFault)
  const half = await serve((_request, response) => {
    response.writeHead(200, { 'X-Still-SHA256': HASH, 'Content-Length': '100' }).write('half')
    response.socket?.destroySoon()
  })
  await expect(stationAt(half).take(STILL)).rejects.toBeInstanceOf(NotTheStillsFault)
})

it('a key that does not work is a refusal with the station’s own words', async () => {
  const api = await serve((_request, response) => {
    response.writeHead(401, { 'Content-Type': 'application/problem+json' }).end(
      JSON.stringify({
        type: 'about:blank',
        title: 'Not allowed',
        status: 401,
        detail: 'This key was revoked.',
        field: 'X-Worker-Key',
        remedy: 'Make a new one.',
      }),
    )
  })
  const fault = await stationAt(api)
    .take(STILL)
    .catch((thrown: unknown) => thrown)
  expect(fault).toBeInstanceOf(Refusal)
  expect(fault).toMatchObject({
    message: 'This key was revoked.',
    remedy: 'Make a new one.',
    kind: 'not allowed',
  })
})

/** A station that keeps what it is sent, and answers for each result with the next of these words. */
async function recordingStation(...words: string[]) {
  const sent: unknown[] = []
  const api = await serve(async (request, response) => {
    sent.push(JSON.parse(await textOf(request)))
    response.writeHead(200, { 'Content-Type': 'application/json' }).end(JSON.stringify({ recorded: words }))
  })
  return { api, sent }
}

it('what it sends passes the station’s door, with embeddings as 16-bit numbers', async () => {
  const { api, sent } = await recordingStation('recorded')
  const scores = [0.9, 0.01, 0.02, 0.03, 0.04, 0.05]
  const embedding = new Float32Array([0.1, -2.5, 3])
  const outcome: Outcome = {
    kind: 'seen',
    width: 640,
    height: 360,
    models,
    found: [{ species: 'goat', score: 0.8, box: [1, 2, 3, 4], detector: scores, namer: scores, embedding }],
  }
  expect(await stationAt(api).record([{ still: STILL, outcome }])).toEqual(['recorded'])
  const parsed = resultsDoor.parse(sent[0]).results[0]!
  expect(parsed).toMatchObject({ kind: 'seen', stillId: 7, urgency: 'old', models, width: 640 })
  const base64 = parsed.kind === 'seen' ? parsed.found[0]!.embedding! : ''
  const bytes = Uint8Array.from(Buffer.from(base64, 'base64'))
  expect([...new Float16Array(bytes.buffer)]).toEqual([...new Float16Array(embedding)])
})

it('several results go in one request, and each has its own answer', async () => {
  const { api, sent } = await recordingStation('already', 'gone', 'recorded')
  const looks = [7, 8, 9].map((stillId) => ({
    still: { stillId, urgency: 'today' as const },
    outcome: { kind: 'unreadable' as const, reason: 'the file is broken' },
    lookSeconds: 0.5,
  }))
  expect(await stationAt(api).record(looks)).toEqual(['already', 'gone', 'recorded'])
  expect(sent).toHaveLength(1)
  expect(resultsDoor.parse(sent[0]).results.map(({ stillId }) => stillId)).toEqual([7, 8, 9])
})

it('an answer for fewer than were sent is none', async () => {
  const { api } = await recordingStation('recorded')
  const outcome = { kind: 'unreadable' as const, reason: 'the file is broken' }
  const looks = [7, 8].map((stillId) => ({ still: { stillId, urgency: 'today' as const }, outcome }))
  await expect(stationAt(api).record(looks)).rejects.toThrow('answered for 1 of 2')
})

describe('with the station’s folder of photos at hand', () => {
  let folder: string
  const offered = (bytes: Buffer) => ({
    ...STILL,
    look: { hash: createHash('sha256').update(bytes).digest('hex'), tiles: true },
  })
  const asks: string[] = []
  let station: ReturnType<typeof remoteStation>
  beforeEach(async () => {
    asks.length = 0
    folder = await mkdtemp(join(tmpdir(), 'hooftally-stills-'))
    await (await openStillFolder(folder)).keep(Buffer.from(HASH, 'hex'), BYTES)
    const api = await serve((request, response) => {
      asks.push(request.url ?? '')
      if (request.url?.includes('/8')) response.writeHead(204).end()
      else response.writeHead(200, { 'X-Still-SHA256': HASH, 'X-Still-Tiles': 'no' }).end()
    })
    station = remoteStation({ api, key: 'secret', name: 'shed', version: '1', models, stillFolder: folder })
  })
  afterEach(() => rm(folder, { recursive: true }))

  it('what was offered with its hash needs no question', async () => {
    const source = await station.take(offered(BYTES))
    expect(source).toMatchObject({ sha256: HASH, tiles: true })
    expect(Buffer.from(await readStill(source!))).toEqual(BYTES)
    expect(asks).toEqual([])
  })

  it('without a hash the station is asked, and not for the bytes', async () => {
    expect(await station.take(STILL)).toMatchObject({ sha256: HASH, tiles: false })
    expect(asks).toEqual(['/api/worker/stills/7?bytes=no'])
  })

  it('a file that is not there may be of a photo that was removed: the station is asked', async () => {
    expect(await station.take({ ...offered(Buffer.from('removed')), stillId: 8 })).toBeNull()
    expect(asks).toEqual(['/api/worker/stills/8?bytes=no'])
  })

  it('a file that was changed is not looked at', async () => {
    const source = await station.take(offered(BYTES))
    await writeFile(join(folder, placeOf('whole', Buffer.from(HASH, 'hex'))), 'others')
    await expect(readStill(source!)).rejects.toThrow(`expected ${HASH}`)
  })
})
