/** PostgreSQL stopped under a running service: intake says so and keeps nothing half-written, and goes on once it is back. */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { builtFile } from '../../services/paths.ts'
import { livePostmaster } from '../../services/store/embedded/postmaster.ts'
import { until } from '../faults/service-process.ts'
import { type Owner, ownPostgres } from './own-postgres.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { problemOf, type SetUpCamera, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { photoLike } from './stub-photos.ts'

let folder: string
let postgres: Owner
let service: TestService
let camera: SetUpCamera

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-away-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  postgres = ownPostgres({ folder })
  const { url } = await postgres.hear('ready')
  service = await openStation({
    config: { databaseUrl: url },
    surroundings: { eyeEntry: builtFile('tests/stub-eye.js') },
  })
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
})
afterAll(async () => {
  await service?.stop()
  await postgres?.stop()
  await rm(folder, { recursive: true, force: true })
})

const send = async (word: string) => await service.post('/api/stills', camera, await photoLike(word))

it('a photo is refused with Retry-After while PostgreSQL is away, and taken whole when it is sent again', {
  timeout: 180_000,
}, async () => {
  expect((await send('before')).status).toBe(201)
  await service.waitUntilRead()
  // Its owner would start it again at once.
  postgres.process.kill('SIGSTOP')
  const cluster = join(folder, 'pg')
  process.kill((await livePostmaster(cluster))!.pid, 'SIGINT')
  await until('PostgreSQL is away', async () => (await livePostmaster(cluster)) === null)

  const refused = await send('while away')
  problemOf(refused, 503)
  expect(refused.headers.get('retry-after')).toMatch(/^\d+$/)

  postgres.process.kill('SIGCONT')
  const { ledger } = service.house
  const hashes = () => ledger.selectFrom('stills').select('hash').execute()
  await until('PostgreSQL serves again', async () => (await hashes()).length > 0)
  expect(await hashes()).toHaveLength(1)
  for (const word of ['while away', 'after']) expect((await send(word)).status).toBe(201)
  await service.waitUntilRead()
  const rows = await ledger.selectFrom('stills').select('state').execute()
  expect(rows.map(({ state }) => state)).toEqual(['done', 'done', 'done'])
  expect((await ledger.selectFrom('cameras').select('stills').executeTakeFirstOrThrow()).stills).toBe(3)
  expect(await keptAggregates(ledger)).toEqual(await recountFromNothing(ledger))
})
