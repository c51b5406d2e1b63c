/** The service is really killed in the middle of its work: what it acknowledged is there once, and is looked at once. */
import { createHash } from 'node:crypto'
import { chmod, mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { z } from 'zod'
import { demoStillsFolder } from '../../services/paths.ts'
import { runningDatabaseUrl } from '../../services/store/embedded/running.ts'
import { openLedger } from '../../services/store/open.ts'
import { keptAggregates, recountFromNothing } from '../integration/recount.ts'
import { childrenOf, type ServiceProcess, startServiceProcess, until } from './service-process.ts'

let data: string
let service: ServiceProcess | null = null

beforeEach(async () => {
  data = await mkdtemp(join(tmpdir(), 'hooftally-kill-'))
  await chmod(data, 0o755)
})
afterEach(async () => {
  await service?.stop()
  service = null
  await rm(data, { recursive: true, force: true })
})

async function call(method: string, path: string, body: unknown): Promise<unknown> {
  const response = await fetch(`${service!.address}/api${path}`, {
    method,
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  })
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`)
  return await response.json()
}

/** A station with one point and one camera; gives the camera's key. */
async function setUp(): Promise<string> {
  await call('PUT', '/station', {
    name: 'Test Station',
    zone: 'Australia/Adelaide',
    homestead: { lat: -28, lon: 134 },
  })
  const { point } = z
    .object({ point: z.object({ id: z.number() }) })
    .parse(await call('POST', '/points', { name: 'First Bore', lat: -28.1, lon: 134.1 }))
  return z
    .object({ key: z.string() })
    .parse(await call('POST', '/cameras', { name: 'first', pointId: point.id })).key
}

async function smallStills(count: number): Promise<Buffer[]> {
  const names = (await readdir(demoStillsFolder)).filter((name) => name.endsWith('.jpg')).slice(0, count)
  return await Promise.all(
    names.map((name) => sharp(join(demoStillsFolder, name)).resize(640).jpeg({ quality: 70 }).toBuffer()),
  )
}

interface Sent {
  readonly acknowledged: string[]
  /** Resolves when every sender has ended, with the service or with its work. */
  readonly over: Promise<unknown>
}

/** Four senders, each a minute of station time apart per still; what the service answered is acknowledged. */
function sendAll(stills: readonly Buffer[], key: string): Sent {
  const acknowledged: string[] = []
  const rest = [...stills.entries()]
  const sender = async () => {
    for (let next = rest.shift(); next !== undefined; next = rest.shift()) {
      const [index, bytes] = next
      const takenAt = new Date(Date.UTC(2026, 9, 1, 10) + index * 60_000 * 7).toISOString()
      const response = await fetch(`${service!.address}/api/stills`, {
        method: 'POST',
        headers: { 'X-Camera-Key': key, 'X-Taken-At': takenAt, 'Content-Type': 'image/jpeg' },
        body: new Uint8Array(bytes),
      }).catch(() => null)
      if (response?.status !== 201) return
      acknowledged.push(createHash('sha256').update(bytes).digest('hex'))
    }
  }
  return { acknowledged, over: Promise.all([sender(), sender(), sender(), sender()]) }
}

async function openLedgerBeside() {
  const url = await runningDatabaseUrl(data)
  if (url === null) throw new Error('no database runs')
  return await openLedger(url)
}

async function nothingWaits(): Promise<boolean> {
  const response = await fetch(`${service!.address}/api/health`)
  const health = z.object({ progress: z.object({ waiting: z.number() }) }).parse(await response.json())
  return health.progress.waiting === 0
}

async function expectWhole(acknowledged: readonly string[]): Promise<void> {
  const ledger = await openLedgerBeside()
  try {
    const rows = await ledger.selectFrom('stills').select(['hash', 'state', 'reason']).execute()
    const hashes = rows.map((row) => row.hash.toString('hex'))
    expect(new Set(hashes).size).toBe(hashes.length)
    for (const hash of acknowledged) expect(hashes).toContain(hash)
    expect(rows.filter((row) => row.state !== 'done')).toEqual([])
    for (const hash of hashes) {
      const bytes = await readFile(join(data, 'stills', 'whole', hash.slice(0, 2), hash))
      expect(createHash('sha256').update(bytes).digest('hex')).toBe(hash)
    }
    const camera = await ledger.selectFrom('cameras').select('stills').executeTakeFirstOrThrow()
    expect(camera.stills).toBe(rows.length)
    expect(await keptAggregates(ledger)).toEqual(await recountFromNothing(ledger))
    const visits = await ledger.selectFrom('visits').select('id').execute()
    expect(visits.length).toBeGreaterThan(0)
  } finally {
    await ledger.destroy()
  }
}

it('killed three times while stills come in: every acknowledged still is there once and done', async () => {
  const stills = await smallStills(40)
  service = await startServiceProcess('serve', { data })
  const key = await setUp()
  const acknowledged: string[] = []
  for (const after of [4, 8, 12]) {
    const sent = sendAll(stills.slice(acknowledged.length), key)
    await until(`${after} stills acknowledged`, async () => sent.acknowledged.length >= after)
    await service.kill()
    await sent.over
    acknowledged.push(...sent.acknowledged)
    service = await startServiceProcess('serve', { data })
    expect(service.output()).toContain('Took over the PostgreSQL that was left running')
  }
  // The whole card again, as a person would: what is known is known, what was lost on the way comes in now.
  const again = sendAll(stills, key)
  await again.over
  await until('everything read', nothingWaits)
  await expectWhole(acknowledged)
})

it.skipIf(process.platform !== 'linux')(
  'the eye killed while it reads: it starts again and every still is done',
  async () => {
    const stills = await smallStills(30)
    service = await startServiceProcess('serve', { data })
    const key = await setUp()
    const sent = sendAll(stills, key)
    for (let kills = 0; kills < 3; kills += 1) {
      let eyes: number[] = []
      await until('an eye at work', async () => {
        eyes = await childrenOf(service!.pid, 'worker/main')
        return eyes.length === 1 && sent.acknowledged.length > kills * 5
      })
      process.kill(eyes[0]!, 'SIGKILL')
      await until('another eye', async () => {
        const now = await childrenOf(service!.pid, 'worker/main')
        return now.length === 1 && now[0] !== eyes[0]
      })
    }
    await sent.over
    expect(sent.acknowledged).toHaveLength(30)
    await until('everything read', nothingWaits)
    await expectWhole(sent.acknowledged)
  },
)

it('a stop in good order ends the service, its eye and its PostgreSQL', async () => {
  service = await startServiceProcess('serve', { data })
  expect(await service.stop()).toBe(0)
  expect(await runningDatabaseUrl(data)).toBeNull()
})

it('the demo killed in the middle of making its past goes on where it was, and doubles nothing', async () => {
  const args = ['--nights', '2', '--seed', '3', '--now', '2026-11-25T06:10:00+10:30']
  service = await startServiceProcess('demo', { data, args })
  await until('some stills in', async () => {
    const response = await fetch(`${service!.address}/api/health`)
    const { progress } = z
      .object({ progress: z.object({ making: z.object({ made: z.number() }).nullable() }) })
      .parse(await response.json())
    return (progress.making?.made ?? 0) >= 10
  })
  await service.kill()
  service = await startServiceProcess('demo', { data, args })
  await until('the past is whole', async () => service!.output().includes('The whole past is in'))
  const ledger = await openLedgerBeside()
  try {
    const said = /The whole past is in: (\d+) photos/.exec(service.output())?.[1]
    const rows = await ledger.selectFrom('stills').select(['state', 'hash', 'camera_id']).execute()
    expect(rows).toHaveLength(Number(said))
    expect(rows.filter((row) => row.state === 'received')).toEqual([])
    expect(await keptAggregates(ledger)).toEqual(await recountFromNothing(ledger))
  } finally {
    await ledger.destroy()
  }
})
