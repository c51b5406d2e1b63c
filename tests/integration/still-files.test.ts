/** The rules of keeping photos' bytes, the same for a folder and for a bucket. */
import { createHash, randomBytes } from 'node:crypto'
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { openStillBucket } from '../../services/store/still-bucket.ts'
import { placeOf, type StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { BUCKET, noS3Server, type S3Server, startS3Server } from './s3-server.ts'

interface Photo {
  readonly bytes: Buffer
  readonly hash: Buffer
}

function photoOf(bytes: Buffer): Photo {
  return { bytes, hash: createHash('sha256').update(bytes).digest() }
}
const newPhoto = () => photoOf(randomBytes(40_000))

/** What the place itself holds, past the code under test. */
interface Place {
  readonly files: StillFiles
  list(): Promise<string[]>
  get(name: string): Promise<Buffer>
  put(name: string, bytes: Buffer): Promise<void>
}

function rules(place: () => Place): void {
  test('what is kept is read back as it came', async () => {
    const { files } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    expect((await files.read(hash))?.equals(bytes)).toBe(true)
  })
  test('what is kept lies under its hash, as it came', async () => {
    const { files, get } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    expect((await get(placeOf('whole', hash))).equals(bytes)).toBe(true)
  })
  test('kept twice, and by two at once, it is there once', async () => {
    const { files, list } = place()
    const { bytes, hash } = newPhoto()
    await Promise.all([files.keep(hash, bytes), files.keep(hash, bytes)])
    await files.keep(hash, bytes)
    expect((await list()).filter((name) => name.includes(hash.toString('hex')))).toHaveLength(1)
  })
  test('an empty photo is kept too', async () => {
    const { files } = place()
    const { bytes, hash } = photoOf(Buffer.alloc(0))
    await files.keep(hash, bytes)
    expect((await files.read(hash))?.length).toBe(0)
  })
  test('what was never kept is not there', async () => {
    const { files } = place()
    const { hash } = newPhoto()
    expect(await files.read(hash)).toBeNull()
    expect(await files.readSmall(hash)).toBeNull()
    await expect(files.sourceOf(hash)).rejects.toThrow(/not where the photos lie/)
  })
  test('bytes that were changed are not handed out, and the photo sent again puts them right', async () => {
    const { files, put } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    await put(placeOf('whole', hash), bytes.subarray(0, 20_000))
    expect(await files.read(hash)).toBeNull()
    await files.keep(hash, bytes)
    expect((await files.read(hash))?.equals(bytes)).toBe(true)
  })
  test('the eye is given the bytes', async () => {
    const { files } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    const source = await files.sourceOf(hash)
    const given = 'file' in source ? await readFile(source.file) : Buffer.from(source.bytes)
    expect(given.equals(bytes)).toBe(true)
  })
  test('a preview is kept beside it, and a later one replaces it', async () => {
    const { files } = place()
    const { hash } = newPhoto()
    await files.keepSmall(hash, Buffer.from('first'))
    await files.keepSmall(hash, Buffer.from('second'))
    expect((await files.readSmall(hash))?.toString()).toBe('second')
  })
  test('made smaller, only the preview is left', async () => {
    const { files } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    await files.keepSmall(hash, Buffer.from('small'))
    await files.dropWhole(hash)
    expect(await files.read(hash)).toBeNull()
    expect((await files.readSmall(hash))?.toString()).toBe('small')
  })
  test('dropped, nothing of it is left, and dropping it again is no fault', async () => {
    const { files, list } = place()
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    await files.keepSmall(hash, Buffer.from('small'))
    await files.drop(hash)
    await files.drop(hash)
    await files.dropWhole(hash)
    expect((await list()).filter((name) => name.includes(hash.toString('hex')))).toEqual([])
  })
  test('one that was never there is dropped without a fault', async () => {
    await place().files.drop(newPhoto().hash)
  })
  test('it says that it is well', async () => {
    expect(await place().files.health()).toMatchObject({ ok: true })
  })
}

describe('a folder', () => {
  let folder: string
  let files: StillFiles
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'hooftally-files-'))
    files = await openStillFolder(folder)
  })
  afterAll(() => rm(folder, { recursive: true, force: true }))

  rules(() => ({
    files,
    list: () => readdir(folder, { recursive: true }),
    get: (name) => readFile(join(folder, name)),
    put: (name, bytes) => writeFile(join(folder, name), bytes),
  }))
  test('nothing is left aside', async () => {
    const { bytes, hash } = newPhoto()
    await files.keep(hash, bytes)
    expect(await readdir(join(folder, 'aside'))).toEqual([])
  })
  test('an empty preview, which a power cut can leave, is made anew', async () => {
    const { hash } = newPhoto()
    await files.keepSmall(hash, Buffer.alloc(0))
    expect(await files.readSmall(hash)).toBeNull()
  })
  test('it has no links', async () => {
    expect(await files.linkOf(newPhoto().hash, 60)).toBeNull()
  })
})

describe.skipIf(noS3Server !== null)(
  `a bucket${noS3Server === null ? '' : ` (skipped: ${noS3Server})`}`,
  () => {
    let server: S3Server
    let files: StillFiles
    beforeAll(async () => {
      server = await startS3Server()
      files = openStillBucket({ bucket: BUCKET, prefix: 'region/north', endpoint: server.endpoint })
    }, 120_000)
    afterAll(async () => {
      files?.close()
      await server?.stop()
    })

    const PREFIX = 'region/north/'
    rules(() => ({
      files,
      list: () => server.keys(),
      get: (name) => server.get(`${PREFIX}${name}`),
      put: (name, bytes) => server.put(`${PREFIX}${name}`, bytes),
    }))
    test('without a prefix it lies at the top of the bucket', async () => {
      const top = openStillBucket({ bucket: BUCKET, prefix: '', endpoint: server.endpoint })
      const { bytes, hash } = newPhoto()
      await top.keep(hash, bytes)
      expect(await server.keys()).toContain(placeOf('whole', hash))
      top.close()
    })
    test('whoever has the link fetches the bytes, without a key of their own', async () => {
      const { bytes, hash } = newPhoto()
      await files.keep(hash, bytes)
      const response = await fetch((await files.linkOf(hash, 60))!)
      expect(response.status).toBe(200)
      expect(Buffer.from(await response.arrayBuffer()).equals(bytes)).toBe(true)
    })
    test('a link says for how long it holds, and is signed', async () => {
      const query = new URL((await files.linkOf(newPhoto().hash, 90))!).searchParams
      // Amazon S3 API reference, "Authenticating requests: using query parameters".
      expect(query.get('X-Amz-Expires')).toBe('90')
      expect(query.get('X-Amz-Signature')).toMatch(/^[0-9a-f]{64}$/)
    })
    test('a bucket that is not there is said so', async () => {
      const lost = openStillBucket({ bucket: 'nowhere', prefix: '', endpoint: server.endpoint })
      const { bytes, hash } = newPhoto()
      await expect(lost.keep(hash, bytes)).rejects.toMatchObject({ kind: 'unavailable' })
      await expect(lost.read(hash)).rejects.toMatchObject({ kind: 'unavailable' })
      expect((await lost.health()).ok).toBe(false)
      lost.close()
    })

    describe('while it is away', () => {
      afterEach(() => server.mendLine())
      test('nothing is said to be kept, and nothing to be missing; back again, it goes on', async () => {
        const [before, during] = [newPhoto(), newPhoto()]
        await files.keep(before.hash, before.bytes)
        await server.cutLine()
        await expect(files.keep(during.hash, during.bytes)).rejects.toMatchObject({ kind: 'unavailable' })
        await expect(files.read(before.hash)).rejects.toMatchObject({ kind: 'unavailable' })
        await expect(files.drop(before.hash)).rejects.toMatchObject({ kind: 'unavailable' })
        expect(await files.health()).toMatchObject({ ok: false, detail: expect.stringContaining(BUCKET) })
        await server.mendLine()
        expect((await files.read(before.hash))?.equals(before.bytes)).toBe(true)
        expect(await files.read(during.hash)).toBeNull()
        await files.keep(during.hash, during.bytes)
        expect((await files.read(during.hash))?.equals(during.bytes)).toBe(true)
      })
    })
  },
)
