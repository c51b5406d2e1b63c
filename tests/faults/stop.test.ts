/** A stop in good order, with senders in the middle of a photo and photos in hand: it ends by itself and loses nothing. */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { z } from 'zod'
import { runningDatabaseUrl } from '../../services/store/embedded/running.ts'
import { openLedger } from '../../services/store/open.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { type ServiceProcess, startServiceProcess } from './service-process.ts'

let data: string
let service: ServiceProcess | null = null

// Whole services are started and stopped, on a machine that does other things too.
vi.setConfig({ testTimeout: 240_000 })

beforeEach(async () => {
  data = await mkdtemp(join(tmpdir(), 'hooftally-stop-'))
  await chmod(data, 0o755)
})
afterEach(async () => {
  await service?.stop()
  service = null
  await rm(data, { recursive: true, force: true })
})

async function tell(method: string, path: string, body: unknown): Promise<unknown> {
  const response = await fetch(`${service!.address}/api${path}`, {
    method,
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  })
  return await response.json()
}

async function cameraKey(): Promise<string> {
  await tell('PUT', '/station', {
    name: 'Thornbill Plains',
    zone: 'Australia/Adelaide',
    homestead: { lat: -28, lon: 134 },
  })
  const { point } = z
    .object({ point: z.object({ id: z.number() }) })
    .parse(await tell('POST', '/points', { name: 'Wren Bore', lat: -28.1, lon: 134.1 }))
  const made = await tell('POST', '/cameras', { name: 'Wren camera', pointId: point.id })
  return z.object({ key: z.string() }).parse(made).key
}

/** Sends half a photo and then nothing more, as a link that has gone. Resolves when the service lets go of it. */
function slowSender(
  key: string,
  bytes: Buffer,
): { readonly begun: Promise<void>; readonly ended: Promise<unknown> } {
  const sending = request(`${service!.address}/api/stills`, {
    method: 'POST',
    headers: { 'X-Camera-Key': key, 'Content-Length': bytes.length },
  })
  const ended = new Promise((resolve) => {
    sending.once('response', (response) => resolve(response.statusCode))
    sending.once('error', () => resolve('let go'))
  })
  const begun = new Promise<void>((resolve) => {
    sending.write(bytes.subarray(0, bytes.length / 2), () => resolve())
  })
  return { begun, ended }
}

it('with slow senders and photos in hand it ends with code 0, and every photo it answered for is there', async () => {
  service = await startServiceProcess('serve', { data })
  const key = await cameraKey()
  const acknowledged: number[] = []
  for (let i = 0; i < 6; i += 1) {
    const response = await fetch(`${service.address}/api/stills`, {
      method: 'POST',
      headers: { 'X-Camera-Key': key },
      body: new Uint8Array(await photoTakenAt('kite-bore-01.jpg', `2026-10-01T2${i % 4}:0${i}:00+09:30`)),
    })
    expect(response.status).toBe(201)
    const { stills } = z
      .object({ stills: z.array(z.object({ id: z.number() })) })
      .parse(await response.json())
    acknowledged.push(...stills.map(({ id }) => id))
  }
  const slow = Array.from({ length: 5 }, () => slowSender(key, Buffer.alloc(500_000, 7)))
  await Promise.all(slow.map(({ begun }) => begun))
  // A stop that took too long would end with 1 and say so.
  expect(await service.stop()).toBe(0)
  expect(service.output()).not.toContain('took too long')
  expect(await Promise.all(slow.map(({ ended }) => ended))).not.toContain(201)
  expect(await runningDatabaseUrl(data)).toBeNull()

  service = await startServiceProcess('serve', { data })
  const ledger = await openLedger((await runningDatabaseUrl(data))!)
  const rows = await ledger.selectFrom('stills').select('id').orderBy('id').execute()
  await ledger.destroy()
  expect(rows.map(({ id }) => id)).toEqual(acknowledged.toSorted((a, b) => a - b))
})

it('without a terminal every line on its standard output is one JSON object, to the last', async () => {
  service = await startServiceProcess('serve', { data })
  expect(await service.stop()).toBe(0)
  const lines = service.output().trim().split('\n')
  expect(lines.length).toBeGreaterThan(1)
  const shape = z.object({ level: z.string(), time: z.iso.datetime(), message: z.string() })
  const messages = lines.map((line) => shape.parse(JSON.parse(line)).message)
  expect(messages.at(-1)).toBe('Stopping.')
})
