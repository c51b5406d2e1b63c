/** What a watcher reads at /metrics: in the published format, and moving with what happens. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import { logTo } from '../../services/log.ts'
import { readExposition } from './exposition.ts'
import { photoTakenAt } from './photos.ts'
import { rawAsk } from './raw-ask.ts'
import { openService, type SetUpCamera, type TestService } from './service.ts'
import { addPointWithCamera, setUpStation } from './station.ts'

let service: TestService
let camera: SetUpCamera
/** All of it, what is for a search for faults too. */
const logged: string[] = []

beforeAll(async () => {
  const log = logTo((level, line, fields) => logged.push(JSON.stringify({ level, line, fields })))
  service = await openService({ surroundings: { log } })
  await setUpStation(service)
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
})
afterAll(() => service.stop())

async function readings() {
  const answer = await service.ask('/metrics')
  expect(answer.status).toBe(200)
  expect(answer.headers.get('content-type')).toMatch(/^text\/plain; version=0\.0\.4/)
  const metrics = readExposition(answer.bytes.toString('utf8'))
  return {
    metrics,
    /** Of the sample with these labels, and of others if it has more. */
    value(name: string, labels: Readonly<Record<string, string>> = {}): number {
      const of = [...metrics.values()].flatMap(({ samples }) => samples)
      const found = of.find(
        (sample) =>
          sample.name === name &&
          Object.entries(labels).every(([key, value]) => sample.labels[key] === value),
      )
      if (found === undefined) throw new Error(`no ${name} ${JSON.stringify(labels)}`)
      return found.value
    },
  }
}

it('every metric has its help, and the process is among them', async () => {
  const { metrics, value } = await readings()
  expect(
    [...metrics].filter(([, { help, type }]) => help === '' || type === '').map(([name]) => name),
  ).toEqual([])
  expect(value('process_resident_memory_bytes')).toBeGreaterThan(0)
  expect(value('hooftally_database_up')).toBe(1)
  expect(value('hooftally_disk_free_bytes')).toBeGreaterThan(0)
  expect(value('hooftally_queue_up')).toBe(1)
})

it('photos that come in, are known, cannot be read and are looked at each move their own count', async () => {
  const before = await readings()
  const photo = await photoTakenAt('kite-bore-03.jpg', '2026-11-24T20:00:00+10:30')
  await service.post('/api/stills', camera, photo)
  await service.post('/api/stills', camera, photo)
  await service.post('/api/stills', camera, Buffer.from('no photo at all'))
  await service.post('/api/stills', camera, photo.subarray(0, Math.floor(photo.length / 2)))
  await service.waitUntilRead()
  const after = await readings()
  const moved = (name: string, labels = {}) => after.value(name, labels) - before.value(name, labels)
  expect(moved('hooftally_intake_photos_total', { outcome: 'new' })).toBe(2)
  expect(moved('hooftally_intake_photos_total', { outcome: 'known' })).toBe(1)
  expect(moved('hooftally_intake_photos_total', { outcome: 'unreadable' })).toBe(1)
  expect(moved('hooftally_intake_seconds_count')).toBe(4)
  expect(moved('hooftally_results_total', { outcome: 'recorded' })).toBe(2)
  expect(moved('hooftally_failures_total', { reason: 'cut short' })).toBe(1)
  expect(moved('hooftally_look_seconds_count')).toBe(2)
  expect(moved('hooftally_look_seconds_sum')).toBeGreaterThan(0)
  expect(moved('hooftally_photos', { state: 'done' })).toBe(1)
  expect(moved('hooftally_photos', { state: 'unreadable' })).toBe(2)
  expect(after.value('hooftally_waiting_photos', { urgency: 'today' })).toBe(0)
  expect(after.value('hooftally_oldest_waiting_seconds')).toBe(0)
})

it('requests are counted by their route and not by their address', async () => {
  await service.ask('/api/points/4711')
  await service.ask('/api/points/4712')
  await service.ask('/api/no/such/place')
  const { metrics, value } = await readings()
  const labels = { method: 'GET', route: '/api/points/:id', status: '404' }
  expect(value('hooftally_http_seconds_count', labels)).toBe(2)
  expect(value('hooftally_http_seconds_count', { route: 'unknown' })).toBeGreaterThan(0)
  const said = JSON.stringify([...metrics.values()])
  expect(said).not.toContain('points/4')
  expect(said).not.toContain('such/place')
})

it('it answers on this machine only, like everything else', async () => {
  const answer = await rawAsk(service, '/metrics', { headers: { Host: 'station.example' } })
  expect(answer.status).toBe(403)
})

it('no key of a camera is in what the service logs or says of itself', async () => {
  await service.tell('/api/heartbeats', camera, { batteryPercent: 5 })
  await service.tell('/api/heartbeats', camera, { at: 'no time' })
  await service.tell('/api/heartbeats', { ...camera, key: 'a-wrong-key-that-nobody-has' }, {})
  await service.ask(`/api/stills?cursor=${camera.key}`)
  const metrics = (await service.ask('/metrics')).bytes.toString()
  expect(logged.some((line) => line.includes('"route":"/api/heartbeats"'))).toBe(true)
  for (const secret of [camera.key, 'a-wrong-key-that-nobody-has', new URL(service.databaseUrl).password]) {
    expect(secret.length).toBeGreaterThan(5)
    expect(metrics).not.toContain(secret)
    expect(logged.join('\n')).not.toContain(secret)
  }
})
