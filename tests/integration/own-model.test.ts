/** A station with a model of its own, a detector without a namer: it counts, and says that it can't learn names. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { namersAnswer } from '../../services/http/own-animal-shapes.ts'
import { healthAnswer, stationAnswer, stillPage } from '../../services/http/shapes.ts'
import { type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'
import { writeTinyModels } from './tiny-detector.ts'

let folder: string
let service: TestService
let camera: SetUpCamera

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-own-model-'))
  await writeTinyModels(folder)
  service = await openStation({ config: { modelsFolder: folder } })
  camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  for (const [i, colour] of (['red', 'lime', 'blue', 'black'] as const).entries()) {
    const photo = sharp({ create: { width: 640, height: 360, channels: 3, background: colour } })
    const at = { 'X-Taken-At': `2026-11-24T2${i}:00:00+10:30` }
    await service.post('/api/stills', camera, await photo.jpeg({ quality: 95 }).toBuffer(), at)
  }
  await service.waitUntilRead()
})
afterAll(async () => {
  await service?.stop()
  await rm(folder, { recursive: true, force: true })
})

it('looks with the models of its own folder, at its marks', async () => {
  const { eye, models } = strictly(healthAnswer, await service.ask('/api/health'))
  expect([eye?.state, models.name, models.namerSha256]).toEqual(['ready', 'tiny', null])
  const { station } = strictly(stationAnswer, await service.ask('/api/station'))
  expect(
    station!.species.map(({ countThreshold, flagThreshold }) => [countThreshold, flagThreshold]),
  ).toEqual(Array(5).fill([0.6, 0.3]))
})

it('counts what its detector finds, and keeps nothing that only a namer gives', async () => {
  const { stills } = strictly(stillPage, await service.ask('/api/stills'))
  // The latest first: black, blue, green, red.
  expect(stills.map(({ tally, flagged }) => [tally, flagged])).toEqual([
    [{}, false],
    [{}, false],
    [{ cattle: 1 }, false],
    [{ camel: 1 }, true],
  ])
  // The box of the input, at the size of the photo; a detector's pure red is a score of nearly 1.
  const [box] = stills[3]!.boxes
  expect(box).toMatchObject({ species: 'camel', counted: true, box: [160, 90, 480, 270] })
  expect(box!.score).toBeGreaterThan(0.95)
  const { ledger } = service.house
  expect(await ledger.selectFrom('embeddings').selectAll().execute()).toEqual([])
  const detections = await ledger.selectFrom('detections').selectAll().execute()
  expect(detections).toHaveLength(3)
  for (const { namer, base_namer, own_kind } of detections)
    expect([namer, base_namer, own_kind]).toEqual([null, null, null])
})

it('says that there is nothing to learn names from, and never asks', async () => {
  const { stills } = strictly(stillPage, await service.ask('/api/stills'))
  await service.send('POST', '/api/checks', {
    words: stills.map(({ id }) => ({ stillId: id, verdict: 'agreed' })),
  })
  await service.house.learning.settled()
  expect(strictly(namersAnswer, await service.ask('/api/namers'))).toMatchObject({
    canLearn: false,
    inUse: null,
    animals: 0,
    versions: [],
  })
})
