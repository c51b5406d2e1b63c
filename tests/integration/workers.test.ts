/** Workers on other machines: what is taken in is looked at once, whoever dies, and only by those who may. */
import { createHash, randomBytes } from 'node:crypto'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { workerKeyMade } from '../../services/http/shapes.ts'
import { noRedis, type RedisServer, startRedis } from './redis-server.ts'
import type { SetUpCamera, TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { photoLike } from './stub-photos.ts'
import { startWorkerProcess, type WorkerProcess } from './worker-process.ts'

describe.skipIf(noRedis !== null)(`workers${noRedis === null ? '' : ` (skipped: ${noRedis})`}`, () => {
  let redis: RedisServer
  let service: TestService
  let camera: SetUpCamera
  const workers: WorkerProcess[] = []

  beforeAll(async () => {
    redis = await startRedis()
  })
  afterAll(() => redis.remove())
  beforeEach(async () => {
    service = await openStation({ config: { redisUrl: redis.url } })
    camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  })
  afterEach(async () => {
    await Promise.all(workers.splice(0).map((worker) => worker.kill()))
    await service.stop()
  })

  async function makeKey(): Promise<string> {
    const answer = await service.send('POST', '/api/workers/keys', { name: 'Shed' })
    expect(answer.status).toBe(201)
    return workerKeyMade.parse(answer.json).key
  }

  function startWorker(key: string, options: Partial<Parameters<typeof startWorkerProcess>[0]> = {}) {
    const worker = startWorkerProcess({ api: service.address, key, ...options })
    workers.push(worker)
    return worker
  }

  async function sendSome(count: number, word = ''): Promise<number[]> {
    const ids: number[] = []
    for (let n = 0; n < count; n += 1) {
      const answer = await service.post(
        '/api/stills',
        camera,
        await photoLike(`${word} ${randomBytes(6).toString('hex')}`),
      )
      expect(answer.status).toBe(201)
      ids.push((answer.json as { stills: Array<{ id: number }> }).stills[0]!.id)
    }
    return ids
  }

  it('two workers look at everything that is sent, each photo once', async () => {
    const key = await makeKey()
    startWorker(key, { name: 'one' })
    startWorker(key, { name: 'two' })
    await sendSome(40)
    await service.waitUntilRead()
    const rows = await service.house.ledger.selectFrom('stills').select(['state']).execute()
    expect(rows.map(({ state }) => state)).toEqual(Array.from({ length: 40 }, () => 'done'))
  })
})
