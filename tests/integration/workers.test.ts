/** Workers on other machines: what is taken in is looked at once, whoever dies, and only by those who may. */
import { randomBytes } from 'node:crypto'
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import {
  healthAnswer,
  joinAnswer,
  resultsAnswer,
  type WorkerKeyMade,
  workerKeyMade,
  workersAnswer,
} from '../../services/http/shapes.ts'
import { builtFile, modelsFolder } from '../../services/paths.ts'
import { startBullmqWorker } from '../../services/queue/bullmq-worker.ts'
import type { EyeProcess } from '../../services/queue/eye-process.ts'
import { stationHere } from '../../services/queue/process-still.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { until } from '../faults/service-process.ts'
import { readExposition } from './exposition.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { noRedis, type RedisServer, startRedis } from './redis-server.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { openProxy, type StationProxy } from './station-proxy.ts'
import { photoLike } from './stub-photos.ts'
import { startWorkerProcess, type WorkerProcess, type WorkerProcessOptions } from './worker-process.ts'

const LONG_MS = 180_000

describe.skipIf(noRedis !== null)(`workers${noRedis === null ? '' : ` (skipped: ${noRedis})`}`, () => {
  let redis: RedisServer
  let service: TestService
  let camera: SetUpCamera
  let made: WorkerKeyMade
  let proxy: StationProxy | null = null
  const workers: WorkerProcess[] = []

  beforeAll(async () => {
    redis = await startRedis()
  })
  afterAll(() => redis.remove())

  async function open(config: Parameters<typeof openStation>[0] = {}): Promise<void> {
    service = await openStation({ ...config, config: { redisUrl: redis.url, ...config.config } })
    camera = await addPointWithCamera(service, { name: 'Wren Bore' })
    made = await makeKey('Shed')
  }
  beforeEach(async () => {
    await redis.start()
    await open()
  })
  afterEach(async () => {
    await Promise.all(workers.splice(0).map((worker) => worker.kill()))
    await proxy?.close()
    proxy = null
    await service.stop()
  })

  async function makeKey(name: string): Promise<WorkerKeyMade> {
    const answer = await service.send('POST', '/api/workers/keys', { name })
    expect(answer.status).toBe(201)
    return strictly(workerKeyMade, answer)
  }

  function startWorker(options: Partial<WorkerProcessOptions> = {}): WorkerProcess {
    const worker = startWorkerProcess({ api: service.address, key: made.key, ...options })
    workers.push(worker)
    return worker
  }

  /** Sends photos of their own, each of which says this word to the stub eye; gives their ids. */
  async function sendPhotos(count: number, word = 'plain'): Promise<number[]> {
    const ids: number[] = []
    for (let n = 0; n < count; n += 1) {
      const bytes = await photoLike(`${word} ${randomBytes(6).toString('hex')}`)
      const answer = await service.post('/api/stills', camera, bytes)
      expect(answer.status).toBe(201)
      ids.push((answer.json as { stills: Array<{ id: number }> }).stills[0]!.id)
    }
    return ids
  }

  const stateOf = async (id: number) =>
    await service.house.ledger
      .selectFrom('stills')
      .select(['state', 'reason'])
      .where('id', '=', id)
      .executeTakeFirstOrThrow()

  /** Every photo is done, and what is kept of them is what a count from nothing gives. */
  async function expectAllDone(count: number): Promise<void> {
    const { ledger } = service.house
    const rows = await ledger.selectFrom('stills').select(['id', 'state']).execute()
    expect(rows).toHaveLength(count)
    expect(rows.filter(({ state }) => state !== 'done')).toEqual([])
    expect(await keptAggregates(ledger)).toEqual(await recountFromNothing(ledger))
  }

  const queueIsEmpty = () =>
    until('no job is left', async () => {
      const { waiting, inHand } = service.house.queue.depth()
      return waiting + inHand === 0
    })
  const inHand = (count: number) =>
    until(`${count} in hand`, async () => service.house.queue.depth().inHand >= count)

  /** A result as a worker sends it, of nothing seen. */
  const nothingIn = (stillId: number, models: object = service.house.models) => ({
    kind: 'seen',
    stillId,
    urgency: 'today',
    models,
    width: 64,
    height: 36,
    found: [],
  })
  const send = (results: readonly object[], key = made.key) =>
    service.send('POST', '/api/worker/results', { results }, { 'X-Worker-Key': key })
  const recordedOf = (answer: Awaited<ReturnType<typeof send>>) => strictly(resultsAnswer, answer).recorded

  it('two workers look at everything that is sent, each photo once', { timeout: LONG_MS }, async () => {
    startWorker({ name: 'one' })
    startWorker({ name: 'two' })
    await sendPhotos(40)
    await service.waitUntilRead()
    await expectAllDone(40)
    const said = readExposition((await service.ask('/metrics')).bytes.toString())
    const looks = said.get('hooftally_look_seconds')?.samples.find(({ name }) => name.endsWith('_count'))
    expect(looks?.value).toBeGreaterThanOrEqual(40)
  })

  it('a worker is listed with its name, version, photos and last word', { timeout: LONG_MS }, async () => {
    const worker = startWorker({ name: 'shed 1' })
    await sendPhotos(5)
    await service.waitUntilRead()
    await queueIsEmpty()
    expect(await worker.stop()).toBe(0)
    service.passHours(1)
    const {
      now,
      expected,
      workers: listed,
      keys,
    } = strictly(workersAnswer, await service.ask('/api/workers'))
    expect(expected).toBe(true)
    expect(listed).toHaveLength(1)
    expect(listed[0]).toMatchObject({
      name: 'shed 1',
      keyName: 'Shed',
      keyRevoked: false,
      atWork: false,
      photosDone: 5,
      photosFailed: 0,
    })
    expect(Date.parse(now) - Date.parse(listed[0]!.lastWordAt)).toBe(3_600_000)
    expect(listed[0]!.photosAnHour).toBeGreaterThan(0)
    expect(keys.map(({ name, keyHint }) => ({ name, keyHint }))).toEqual([
      { name: 'Shed', keyHint: made.key.slice(-4) },
    ])
  })

  it('two workers that were given the same photo leave one result', async () => {
    const [id] = await sendPhotos(1)
    const other = await makeKey('Office')
    const answers = await Promise.all([send([nothingIn(id!)]), send([nothingIn(id!)], other.key)])
    expect(answers.flatMap(recordedOf).sort()).toEqual(['already', 'recorded'])
    await expectAllDone(1)
  })

  it('of results that come together each has its own answer, in their order', async () => {
    const [one, two] = await sendPhotos(2)
    const none = 1_000_000
    const answer = await send([nothingIn(one!), nothingIn(none), nothingIn(one!), nothingIn(two!)])
    expect(recordedOf(answer)).toEqual(['recorded', 'gone', 'already', 'recorded'])
    await expectAllDone(2)
  })

  it('results of photos that wait together come in few requests', { timeout: LONG_MS }, async () => {
    await sendPhotos(30)
    await until('all are queued', async () => service.house.queue.depth().waiting === 30)
    proxy = await openProxy(service.address)
    startWorker({ api: proxy.address })
    await service.waitUntilRead()
    await queueIsEmpty()
    await expectAllDone(30)
    expect(proxy.asked.filter((what) => what === 'POST /api/worker/results').length).toBeLessThanOrEqual(20)
  })

  it('a worker that dies after its result was taken and before it said so: done once, and the job ends', {
    timeout: LONG_MS,
  }, async () => {
    proxy = await openProxy(service.address)
    const first = startWorker({ api: proxy.address })
    await first.joined
    let results = 0
    proxy.onAnswer = (what) => {
      if (!what.includes('/api/worker/results')) return 'pass'
      results += 1
      process.kill(first.pid, 'SIGKILL')
      return 'drop'
    }
    const [id] = await sendPhotos(1)
    expect(await first.ended).toBe('SIGKILL')
    expect(results).toBe(1)
    expect((await stateOf(id!)).state).toBe('done')
    // The job is still in its hand; it comes back when its lock has run out, and there is nothing to do.
    startWorker({ name: 'two' })
    await queueIsEmpty()
    await expectAllDone(1)
  })

  it('a result for a photo that was removed is no fault, and its job ends', {
    timeout: LONG_MS,
  }, async () => {
    const worker = startWorker()
    await worker.joined
    const [id] = await sendPhotos(1, 'SLOW')
    await inHand(1)
    await service.house.ledger.deleteFrom('stills').where('id', '=', id!).execute()
    await queueIsEmpty()
    expect(recordedOf(await send([nothingIn(id!)]))).toEqual(['gone'])
    await sendPhotos(3)
    await service.waitUntilRead()
    await expectAllDone(3)
  })

  it('a file that kills whoever reads it is given up with its reason, and the others are done', {
    timeout: LONG_MS,
  }, async () => {
    const before = await sendPhotos(6)
    const [poison] = await sendPhotos(1, 'POISON')
    const after = await sendPhotos(6)
    startWorker({ name: 'one' })
    await service.waitUntilRead()
    expect(await stateOf(poison!)).toEqual({
      state: 'unreadable',
      reason: 'could not be read in 4 tries: the eye ended (SIGKILL) while reading',
    })
    for (const id of [...before, ...after]) expect((await stateOf(id)).state).toBe('done')
    const { queue } = healthAnswer.parse((await service.ask('/api/health')).json)
    expect(queue.givenUp).toBe(1)
  })

  it('a file that cannot be read is an answer, not a fault', { timeout: LONG_MS }, async () => {
    startWorker()
    const [id] = await sendPhotos(1, 'UNREADABLE')
    await service.waitUntilRead()
    expect(await stateOf(id!)).toEqual({ state: 'unreadable', reason: 'the file is broken' })
  })

  it('a worker that is asked to stop hands back what it has not finished', { timeout: LONG_MS }, async () => {
    // Long enough that it cannot be waited for.
    const [id] = await sendPhotos(1, 'HANGS')
    const first = startWorker()
    await first.joined
    await inHand(1)
    expect(await first.stop()).toBe(0)
    await until('it waits again', async () => service.house.queue.depth().inHand === 0)
    expect((await stateOf(id!)).state).toBe('received')
    expect(service.house.queue.depth().waiting).toBe(1)
  })

  it('a worker stops though Redis is away', { timeout: LONG_MS }, async () => {
    const worker = startWorker()
    await worker.joined
    await redis.kill()
    await until('it has noticed', async () => worker.output().includes('does not answer'))
    expect(await worker.stop()).toBe(0)
  })

  it('a photo in the hand of a worker that was killed comes back to another', {
    timeout: LONG_MS,
  }, async () => {
    const first = startWorker()
    await first.joined
    await sendPhotos(4, 'SLOW')
    await inHand(4)
    await first.kill()
    startWorker({ name: 'two' })
    await service.waitUntilRead()
    await expectAllDone(4)
  })

  it('Redis emptied while photos wait: all are done', { timeout: LONG_MS }, async () => {
    await sendPhotos(30)
    await until('all are queued', async () => service.house.queue.depth().waiting === 30)
    await redis.flush()
    startWorker()
    await service.waitUntilRead()
    await expectAllDone(30)
  })

  it('Redis killed and started anew: photos are taken meanwhile, health says so, and all are done', {
    timeout: LONG_MS,
  }, async () => {
    const worker = startWorker()
    await worker.joined
    await sendPhotos(10)
    await redis.kill()
    await sendPhotos(10)
    const health = healthAnswer.parse((await service.ask('/api/health')).json)
    expect(health).toMatchObject({ ok: false, queue: { ok: false } })
    await redis.start()
    await sendPhotos(10)
    await service.waitUntilRead()
    await expectAllDone(30)
  })

  it('a station that is away is waited for, and no try counts', { timeout: LONG_MS }, async () => {
    proxy = await openProxy(service.address)
    const worker = startWorker({ api: proxy.address })
    await worker.joined
    proxy.away = '503'
    await sendPhotos(3)
    const asksOf = () => proxy!.asked.filter((what) => what.startsWith('GET /api/worker/stills/')).length
    // Three photos asked for more often than a photo may be tried.
    await until('many questions', async () => asksOf() > 12)
    proxy.away = 'drop'
    await until('many more', async () => asksOf() > 14)
    proxy.away = null
    await service.waitUntilRead()
    await expectAllDone(3)
    expect(worker.output()).toContain('the station answers again')
  })

  it('photos are read from a folder that both were given, and only if they are what came', {
    timeout: LONG_MS,
  }, async () => {
    await service.stop()
    const folder = await mkdtemp(join(tmpdir(), 'hooftally-stills-'))
    await open({ config: { stillFolder: folder } })
    proxy = await openProxy(service.address)
    try {
      const [good] = await sendPhotos(1)
      const [changed] = await sendPhotos(1, 'UNREADABLE')
      const { hash } = await service.house.ledger
        .selectFrom('stills')
        .select('hash')
        .where('id', '=', changed!)
        .executeTakeFirstOrThrow()
      const files = await openStillFolder(folder)
      const source = await files.sourceOf(hash)
      await writeFile('file' in source ? source.file : '', 'other bytes')
      startWorker({ api: proxy.address, environment: { STILLS_FOLDER: folder } })
      await service.waitUntilRead()
      expect((await stateOf(good!)).state).toBe('done')
      expect(await stateOf(changed!)).toMatchObject({
        state: 'unreadable',
        reason: expect.stringMatching(/its bytes are not the ones that came/),
      })
      const asked = proxy.asked.filter((what) => what.startsWith('GET /api/worker/stills/'))
      // What was right the first time needs no question; what was not is asked about, and not for its bytes.
      expect(new Set(asked)).toEqual(new Set([`GET /api/worker/stills/${changed}?bytes=no`]))
    } finally {
      await rm(folder, { recursive: true, force: true })
    }
  })

  it('with a folder that both were given, a photo that was removed while it waited is not looked at', {
    timeout: LONG_MS,
  }, async () => {
    await service.stop()
    const folder = await mkdtemp(join(tmpdir(), 'hooftally-stills-'))
    await open({ config: { stillFolder: folder } })
    try {
      const [removed] = await sendPhotos(1, 'HANGS')
      await sendPhotos(3)
      const { ledger } = service.house
      const { hash } = await ledger
        .deleteFrom('stills')
        .where('id', '=', removed!)
        .returning('hash')
        .executeTakeFirstOrThrow()
      await (await openStillFolder(folder)).drop(hash)
      await until('all are queued', async () => service.house.queue.depth().waiting === 4)
      const worker = startWorker({ environment: { STILLS_FOLDER: folder } })
      await queueIsEmpty()
      await expectAllDone(3)
      expect(worker.output()).not.toContain('trying again')
    } finally {
      await rm(folder, { recursive: true, force: true })
    }
  })

  it('a wrong key: the worker ends and says what to do', { timeout: LONG_MS }, async () => {
    const worker = startWorker({ key: 'not-a-key' })
    expect(await worker.ended).toBe(1)
    expect(worker.output()).toContain('This worker key is not known here, or it was revoked.')
    expect(worker.output()).toContain('Make a new key in Set-up')
  })

  it('a key revoked while its worker runs ends it, and its photos go to others', {
    timeout: LONG_MS,
  }, async () => {
    const other = await makeKey('Office')
    const first = startWorker()
    await first.joined
    expect((await service.send('POST', `/api/workers/keys/${made.workerKey.id}/revoke`, {})).status).toBe(200)
    await sendPhotos(3)
    expect(await first.ended).toBe(1)
    expect(first.output()).toContain('or it was revoked')
    startWorker({ key: other.key, name: 'two' })
    await service.waitUntilRead()
    await expectAllDone(3)
    const again = await service.send('POST', `/api/workers/keys/${made.workerKey.id}/revoke`, {})
    problemOf(again, 404)
  })

  it('a worker with other models than the station’s is refused', { timeout: LONG_MS }, async () => {
    const folder = await mkdtemp(join(tmpdir(), 'hooftally-models-'))
    try {
      await cp(modelsFolder, folder, { recursive: true })
      const manifest = join(folder, 'manifest.json')
      const changed = { ...JSON.parse(await readFile(manifest, 'utf8')), version: '99.0' }
      await writeFile(manifest, JSON.stringify(changed))
      const worker = startWorker({ args: ['--models', folder] })
      expect(await worker.ended).toBe(1)
      const { name, version } = service.house.models
      expect(worker.output()).toContain(
        `The worker has the models ${name} 99.0 and the station ${name} ${version}`,
      )
      expect(worker.output()).toContain('the same models folder as the station')
    } finally {
      await rm(folder, { recursive: true, force: true })
    }
  })

  it('a result of other models is refused, and the photo still waits', async () => {
    const [id] = await sendPhotos(1)
    const models = { ...service.house.models, detectorSha256: '0'.repeat(64) }
    const problem = problemOf(await send([nothingIn(id!, models)]), 409)
    expect(problem.field).toBe('models')
    expect((await stateOf(id!)).state).toBe('received')
  })

  it('a station that does not answer at the start is waited for, then given up', {
    timeout: LONG_MS,
  }, async () => {
    proxy = await openProxy(service.address)
    proxy.away = '503'
    const patient = startWorker({ api: proxy.address })
    await until('it waits', async () => patient.output().includes('Waiting for the station'))
    proxy.away = null
    await patient.joined
    proxy.away = 'drop'
    const hasty = startWorker({ api: proxy.address, environment: { TEST_JOIN_PATIENCE_MS: '100' } })
    expect(await hasty.ended).toBe(1)
    expect(hasty.output()).toContain(`The station at ${proxy.address} did not answer`)
  })

  it('without a queue for workers the station says so to one that wants to join', async () => {
    await service.stop()
    service = await openStation()
    made = await makeKey('Shed')
    const { models } = service.house
    const answer = await service.send(
      'POST',
      '/api/workers/join',
      { name: 'shed', version: '1', models },
      { 'X-Worker-Key': made.key },
    )
    expect(problemOf(answer, 409).detail).toBe(
      'This station looks at its photos itself and has no queue for workers.',
    )
  })

  it('a worker learns the queue’s address as it is reached from elsewhere', async () => {
    await service.stop()
    await open({ config: { workerRedisUrl: 'redis://queue.example:6379' } })
    const { models } = service.house
    const answer = await service.send(
      'POST',
      '/api/workers/join',
      { name: 'shed', version: '1', models },
      { 'X-Worker-Key': made.key },
    )
    expect(strictly(joinAnswer, answer)).toMatchObject({
      queue: { url: 'redis://queue.example:6379' },
      stills: 'api',
    })
  })

  it('health: without a worker nothing is wrong until a photo waits', { timeout: LONG_MS }, async () => {
    const health = async () => strictly(healthAnswer, await service.ask('/api/health'))
    await until('the queue is up', async () => (await health()).queue.ok)
    expect(await health()).toMatchObject({ ok: true, eye: null, workers: { atWork: 0, lastWordAt: null } })
    await sendPhotos(1)
    expect((await health()).ok).toBe(false)
    const worker = startWorker()
    await worker.joined
    expect(await health()).toMatchObject({ ok: true, workers: { atWork: 1 } })
    await service.waitUntilRead()
    await worker.stop()
    service.passHours(1)
    await sendPhotos(1)
    expect(await health()).toMatchObject({ ok: false, workers: { atWork: 0 } })
  })

  it('Look closer, said of a camera while its photos wait, goes to whoever looks at them', {
    timeout: LONG_MS,
  }, async () => {
    await sendPhotos(2)
    await until('all are queued', async () => service.house.queue.depth().waiting === 2)
    const answer = await service.send('PATCH', `/api/cameras/${camera.id}`, { searchTiles: true })
    expect(answer.status).toBe(200)
    const tiles: Array<boolean | undefined> = []
    const { ledger, files, workers: forWorkers } = service.house
    const eye: EyeProcess = {
      ...{ state: () => 'ready', restarts: () => 0, models: () => null, plan: () => null, atOnce: () => 1 },
      async look(still) {
        tiles.push(still.tiles)
        return { kind: 'unreadable', reason: 'not looked at' }
      },
      stop: async () => undefined,
    }
    await until('it waits as it is now', async () => service.house.queue.depth().waiting === 2)
    const { redisUrl, queueName } = forWorkers!
    const station = stationHere({ ledger, files })
    const worker = startBullmqWorker({ redisUrl, queueName, eye, station, log: () => undefined })
    await service.waitUntilRead()
    await worker.stop()
    expect(tiles).toEqual([true, true])
  })

  it('the service may look at photos too, beside workers', { timeout: LONG_MS }, async () => {
    await service.stop()
    await open({
      config: { runsEye: true },
      surroundings: { eyeEntry: builtFile('tests/stub-eye.js') },
    })
    await sendPhotos(5)
    await service.waitUntilRead()
    await expectAllDone(5)
  })
})
