/** A station spread out: a PostgreSQL, a Redis, the service and two workers, each of which may be killed. */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { builtFile } from '../../services/paths.ts'
import { openEmbeddedPostgres } from '../../services/store/embedded/open.ts'
import { openLedger } from '../../services/store/open.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { freePort, type RedisServer, startRedis } from '../integration/redis-server.ts'
import type { Household } from './drive.ts'
import { keepProcess, keepStubService, type Victim } from './household.ts'
import { makeWorkerKey, setUpStation } from './station-to-kill.ts'
import { countWaiting, killableEye, killablePostgres } from './victims.ts'

const WORKERS = 2

export async function openScaled(): Promise<Household> {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-faults-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  const data = join(folder, 'station')
  let said = ''
  const postgres = await openEmbeddedPostgres({
    folder: join(folder, 'database'),
    log: (line) => {
      said += `${line}\n`
    },
  })
  const redis = await startRedis({ keeps: true })
  const port = await freePort()
  const address = `http://127.0.0.1:${port}`
  const shared = { STILLS_FOLDER: join(data, 'stills') }
  const service = keepStubService({
    data,
    port,
    environment: { DATABASE_URL: postgres.url, REDIS_URL: redis.url, ...shared },
  })
  await service.start()
  const cameras = await setUpStation(address)
  const key = await makeWorkerKey(address)
  const workers = Array.from({ length: WORKERS }, (_, i) =>
    keepProcess({
      name: `worker ${i + 1}`,
      file: builtFile('tests/stub-worker.js'),
      args: ['--api', address, '--key', key, '--name', `worker ${i + 1}`],
      // One finds photos in the folder, the other asks the API for them.
      environment: { TEST_JOIN_PATIENCE_MS: '120000', ...(i === 0 && shared) },
      ready: /./,
    }),
  )
  await Promise.all(workers.map((worker) => worker.start()))
  return {
    address,
    cameras,
    victims: [
      service,
      ...workers,
      ...workers.map(killableEye),
      ...killablePostgres({
        cluster: join(folder, 'database', 'pg'),
        databaseUrl: async () => postgres.url,
      }),
      ...killableRedis(redis),
    ],
    waiting: () => countWaiting(postgres.url),
    station: async () => ({
      ledger: await openLedger(postgres.url),
      files: await openStillFolder(join(data, 'stills')),
    }),
    output: () => [said, service.output(), ...workers.map((worker) => worker.output())].join('\n'),
    async stop() {
      await Promise.all(workers.map((worker) => worker.stop()))
      await service.stop()
      await redis.remove()
      await postgres.stop()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

function killableRedis(redis: RedisServer): Victim[] {
  return [
    { name: 'Redis', kill: () => redis.kill(), start: () => redis.start() },
    // As after a restart without its memory, with the queue full.
    {
      name: 'all that Redis knows',
      kill: () => redis.flush().catch(() => undefined),
      start: async () => undefined,
    },
  ]
}
