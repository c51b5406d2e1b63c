/** Sets a station up over its API, with points, cameras and keys. */
import { z } from 'zod'
import type { SendingCamera } from './senders.ts'

const POINTS = 4
const CAMERAS = 6

async function call(
  address: string,
  [method, path]: readonly [string, string],
  body: unknown,
): Promise<unknown> {
  const response = await fetch(`${address}/api${path}`, {
    method,
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  })
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`)
  return await response.json()
}

/** Half of the cameras send heartbeats, so that effort is counted both ways. */
export async function setUpStation(address: string, cameraCount = CAMERAS): Promise<SendingCamera[]> {
  await call(address, ['PUT', '/station'], {
    name: 'Test Station',
    zone: 'Australia/Adelaide',
    homestead: { lat: -28, lon: 134 },
  })
  // These cameras send faster than any at a water.
  const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: null, stillsADay: null }
  await call(address, ['PUT', '/intake-limits'], limits)
  const pointIds: number[] = []
  for (let i = 0; i < POINTS; i += 1) {
    const made = await call(address, ['POST', '/points'], { name: `Bore ${i}`, lat: -28 - i / 10, lon: 134 })
    pointIds.push(z.object({ point: z.object({ id: z.number() }) }).parse(made).point.id)
  }
  const cameras: SendingCamera[] = []
  for (let i = 0; i < cameraCount; i += 1) {
    const made = await call(address, ['POST', '/cameras'], {
      name: `Camera ${i}`,
      pointId: pointIds[i % POINTS],
      sendsHeartbeats: i % 2 === 0,
    })
    const { camera, key } = z.object({ camera: z.object({ id: z.number() }), key: z.string() }).parse(made)
    cameras.push({ id: camera.id, key })
  }
  return cameras
}

/** Makes a key that a worker may join with. */
export async function makeWorkerKey(address: string): Promise<string> {
  const made = await call(address, ['POST', '/workers/keys'], { name: 'faults' })
  return z.object({ key: z.string() }).parse(made).key
}
