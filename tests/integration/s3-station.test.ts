/** A station whose photos lie in S3-compatible storage: the whole way of a photo, and the storage going away. */
import { createHash } from 'node:crypto'
import { mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { writeBackup } from '../../services/backup/write.ts'
import { readServeConfig } from '../../services/config/serve.ts'
import { healthAnswer, stillAnswer } from '../../services/http/shapes.ts'
import { openStationData } from '../../services/store/data-folder.ts'
import { openSnapshot } from '../../services/store/dump.ts'
import { placeOf } from '../../services/store/still-files.ts'
import { restoreElsewhere } from './backup-station.ts'
import { photoTakenAt } from './photos.ts'
import { BUCKET, noS3Server, type S3Server, startS3Server } from './s3-server.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, camerasNow, openStation } from './station.ts'

const CATTLE = 'galah-well-04.jpg'
const received = z.object({ stills: z.array(z.object({ id: z.int(), known: z.boolean() })) })
const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest()
const skipped = noS3Server === null ? '' : ` (skipped: ${noS3Server})`

describe.skipIf(noS3Server !== null)(`photos in a bucket${skipped}`, () => {
  let server: S3Server
  let service: TestService
  let camera: SetUpCamera
  let bucket: { readonly STILLS_S3: string; readonly STILLS_S3_ENDPOINT: string }

  beforeAll(async () => {
    server = await startS3Server()
    bucket = { STILLS_S3: `s3://${BUCKET}/thornbill`, STILLS_S3_ENDPOINT: server.endpoint }
    const { stillBucket } = readServeConfig([], bucket)
    service = await openStation({ config: { stillBucket } })
    camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  }, 180_000)
  afterAll(async () => {
    await service?.stop()
    await server?.stop()
  })

  let minute = 0
  const newPhoto = () => {
    minute += 1
    return photoTakenAt(CATTLE, `2026-11-24T20:${String(minute).padStart(2, '0')}:00+10:30`)
  }
  async function send(bytes: Buffer) {
    const answer = await service.post('/api/stills', camera, bytes)
    expect(answer.status).toBe(201)
    return received.parse(answer.json).stills[0]!.id
  }
  const stillNow = async (id: number) => strictly(stillAnswer, await service.ask(`/api/stills/${id}`)).still
  const keyOf = (bytes: Buffer) => `thornbill/${placeOf('whole', hashOf(bytes))}`

  test('come in, are looked at, and are shown in both sizes', async () => {
    const bytes = await newPhoto()
    const id = await send(bytes)
    expect((await server.get(keyOf(bytes))).equals(bytes)).toBe(true)
    await service.waitUntilRead()
    const still = await stillNow(id)
    // One of two cattle is found at this size: see bad-stills.test.ts.
    expect(still).toMatchObject({ state: 'done', tally: { cattle: 1 } })
    const full = await service.ask(still.fullUrl)
    expect(full.headers.get('content-type')).toBe('image/jpeg')
    expect(full.bytes.equals(bytes)).toBe(true)
    const small = await service.ask(still.smallUrl)
    expect(small.headers.get('content-type')).toBe('image/webp')
    expect(await server.keys()).toContain(`thornbill/${placeOf('small', hashOf(bytes))}`)
  })
  test('leave nothing in the data folder', async () => {
    await send(await newPhoto())
    const names = await readdir(service.dataFolder).catch(() => [])
    expect(names).not.toContain('stills')
  })
  test('sent again, they are known', async () => {
    const bytes = await newPhoto()
    await send(bytes)
    const again = await service.post('/api/stills', camera, bytes)
    expect([again.status, received.parse(again.json).stills[0]?.known]).toEqual([200, true])
  })
  test('are fetched by whoever has the link', async () => {
    const bytes = await newPhoto()
    await send(bytes)
    const link = await service.house.files.linkOf(hashOf(bytes), 60)
    const response = await fetch(link!)
    expect(Buffer.from(await response.arrayBuffer()).equals(bytes)).toBe(true)
  })
  test('Health says where they lie', async () => {
    const { stills } = strictly(healthAnswer, await service.ask('/api/health'))
    expect(stills).toEqual({ ok: true, detail: expect.stringContaining(`s3://${BUCKET}/thornbill`) })
  })

  test('while it is away nothing is taken and nothing given up; once it is back everything goes on', async () => {
    const [before, during] = [await newPhoto(), await newPhoto()]
    const photosBefore = (await camerasNow(service))[0]!.photos
    // Paused by the cut: received, and its bytes out of reach.
    const id = await send(before)
    await server.cutLine()
    try {
      const answer = await service.post('/api/stills', camera, during)
      expect(problemOf(answer, 503).detail).toContain(BUCKET)
      expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0)
      expect((await camerasNow(service))[0]!.photos).toBe(photosBefore + 1)
      const health = strictly(healthAnswer, await service.ask('/api/health'))
      expect(health).toMatchObject({ ok: false, stills: { ok: false } })
      problemOf(await service.ask(`/api/stills/${id}/full`), 503)
    } finally {
      await server.mendLine()
    }
    await send(during)
    await service.waitUntilRead()
    expect(await stillNow(id)).toMatchObject({ state: 'done', reason: null })
    expect(strictly(healthAnswer, await service.ask('/api/health')).stills.ok).toBe(true)
  }, 120_000)

  test('a backup has them, and they can be put back into a folder', async () => {
    const bytes = await newPhoto()
    await send(bytes)
    const folder = await mkdtemp(join(tmpdir(), 'hooftally-bucket-'))
    const snapshot = await openSnapshot(service.databaseUrl)
    try {
      const path = join(folder, 'bucket.backup')
      const signal = new AbortController().signal
      const end = await writeBackup({ path, snapshot, files: service.house.files, signal })
      expect(end).toMatchObject({ photos: (await camerasNow(service))[0]!.photos, gone: 0 })
      const restored = await restoreElsewhere(path)
      expect(await restored.files.read(hashOf(bytes))).toEqual(bytes)
      await restored.close()
    } finally {
      await snapshot.close()
      await rm(folder, { recursive: true })
    }
  })

  test('a command that would look for them elsewhere is refused, and says where they are', async () => {
    const elsewhere = openStationData({
      dataFolder: join(service.dataFolder, 'elsewhere'),
      databaseUrl: service.databaseUrl,
      log: () => undefined,
    })
    await expect(elsewhere).rejects.toMatchObject({
      kind: 'conflict',
      message: expect.stringContaining(`s3://${BUCKET}/thornbill`),
    })
  })
  test('copied to another place, they are found there', async () => {
    for (const key of await server.keys()) {
      const name = key.replace('thornbill/', '')
      await server.put(`moved/${name}`, await server.get(key))
    }
    const { stillBucket } = readServeConfig([], { ...bucket, STILLS_S3: `s3://${BUCKET}/moved/` })
    const data = await openStationData({
      dataFolder: service.dataFolder,
      databaseUrl: service.databaseUrl,
      stillBucket,
      log: () => undefined,
    })
    await data.close()
  })
})

describe('STILLS_S3', () => {
  test('names a bucket and, if wanted, a prefix', () => {
    const placeOfText = (STILLS_S3: string) => readServeConfig([], { STILLS_S3 }).stillBucket
    expect(placeOfText('s3://photos')).toEqual({ bucket: 'photos', prefix: '', endpoint: undefined })
    expect(placeOfText('s3://photos/north/stations/')).toMatchObject({ prefix: 'north/stations' })
    expect(readServeConfig([], {}).stillBucket).toBeUndefined()
  })
  test.each(['photos', 'https://photos.example', 's3://', 's3://UPPER', 's3://a b'])(
    '%s is refused',
    (text) => {
      expect(() => readServeConfig([], { STILLS_S3: text })).toThrow(/s3:\/\/bucket\/prefix/)
    },
  )
})
