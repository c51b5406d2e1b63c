/** A station for a test file: points, the cameras that stand there, and what they send, all through the doors. */
import { expect } from 'vitest'
import { z } from 'zod'
import { type Camera, cameraShape, cameraWithKey, pointShape } from '../../services/http/shapes.ts'
import { photoTakenAt } from './photos.ts'
import { openService, type ServiceChange, type SetUpCamera, strictly, type TestService } from './service.ts'

const STATION = {
  name: 'Thornbill Plains',
  zone: 'Australia/Adelaide',
  homestead: { lat: -28.1, lon: 135.2 },
}

/** Makes a service that of an invented station without points. */
export async function setUpStation(service: TestService, change: object = {}): Promise<void> {
  const answer = await service.send('PUT', '/api/station', { ...STATION, ...change })
  expect(answer.status).toBe(200)
}

/** A service that is that of an invented station without points. */
export async function openStation(change: ServiceChange = {}): Promise<TestService> {
  const service = await openService(change)
  await setUpStation(service)
  return service
}

export async function addPoint(service: TestService, fields: object): Promise<number> {
  const answer = await service.send('POST', '/api/points', { lat: -28.05, lon: 135.25, ...fields })
  expect(answer.status).toBe(201)
  return pointShape.parse((answer.json as { point: unknown }).point).id
}

export async function addCamera(
  service: TestService,
  fields: { readonly name: string; readonly pointId: number } & Readonly<Record<string, unknown>>,
): Promise<SetUpCamera> {
  const answer = await service.send('POST', '/api/cameras', fields)
  expect(answer.status).toBe(201)
  const { camera, key } = strictly(cameraWithKey, answer)
  return { id: camera.id, pointId: camera.pointId, name: camera.name, key }
}

/** A camera at a point of its own: at `Wren Bore` stands the `Wren camera`. */
export async function addPointWithCamera(
  service: TestService,
  point: { readonly name: string } & Readonly<Record<string, unknown>>,
  camera: Readonly<Record<string, unknown>> = {},
): Promise<SetUpCamera> {
  const [firstWord] = point.name.split(' ')
  const pointId = await addPoint(service, point)
  return await addCamera(service, { name: `${firstWord} camera`, ...camera, pointId })
}

/** The most that many tests need: a station with one camera, the `Wren camera` at `Wren Bore`. */
export async function openStationWithCamera(): Promise<{
  readonly service: TestService
  readonly camera: SetUpCamera
}> {
  const service = await openStation()
  return { service, camera: await addPointWithCamera(service, { name: 'Wren Bore' }) }
}

/** Sends demo stills as photos taken at these times, in this order. */
export async function sendPhotos(
  service: TestService,
  camera: SetUpCamera,
  photos: ReadonlyArray<readonly [source: string, takenAt: string]>,
): Promise<void> {
  for (const [source, takenAt] of photos) {
    const answer = await service.post('/api/stills', camera, await photoTakenAt(source, takenAt))
    expect(answer.status).toBe(201)
  }
}

/** The cameras as the service shows them, by name. */
export async function camerasNow(service: TestService): Promise<Camera[]> {
  return strictly(z.object({ cameras: z.array(cameraShape) }), await service.ask('/api/cameras')).cameras
}
