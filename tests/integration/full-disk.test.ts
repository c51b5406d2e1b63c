/** A disk that gets full: photos are no longer taken, the sender and the manager are told, and nothing is half kept. */
import { createHash, randomBytes } from 'node:crypto'
import { readdir, rm, statfs, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { healthAnswer, waterRunAnswer } from '../../services/http/shapes.ts'
import { builtFile } from '../../services/paths.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { photoTakenAt } from './photos.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { noSmallDisk, openSmallDisk, type SmallDisk } from './small-disk.ts'
import { addPointWithCamera, camerasNow, openStation } from './station.ts'

const MIB = 1024 ** 2
const CATTLE = 'galah-well-04.jpg'

/** More than any disk has. */
const NO_DISK_BYTES = 2 ** 53 - 1

describe('with less free room than is held back', () => {
  let service: TestService
  let camera: SetUpCamera
  beforeAll(async () => {
    service = await openStation({ config: { diskReserveBytes: NO_DISK_BYTES } })
    camera = await addPointWithCamera(service, { name: 'Wren Bore' })
  }, 120_000)
  afterAll(() => service?.stop())

  test('a photo is refused with the reason, and when to try again', async () => {
    const bytes = await photoTakenAt(CATTLE, '2026-11-24T20:00:00+10:30')
    const answer = await service.post('/api/stills', camera, bytes)
    // RFC 4918, section 11.5: 507, no room to store what came.
    const problem = problemOf(answer, 507)
    expect(problem.detail).toMatch(/nearly full .* not taken/)
    expect(problem.remedy).toContain('Keeping photos')
    expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0)
    expect((await camerasNow(service))[0]?.photos).toBe(0)
  })
  test('a camera’s sign of life is taken all the same', async () => {
    expect((await service.tell('/api/heartbeats', camera, {})).status).toBe(201)
  })
  test('the manager is told on the Water run and in Health', async () => {
    expect(strictly(waterRunAnswer, await service.ask('/api/water-run')).room).toBe('full')
    const health = strictly(healthAnswer, await service.ask('/api/health'))
    expect(health).toMatchObject({
      ok: false,
      disk: { ok: false, room: 'full', reserveBytes: NO_DISK_BYTES },
    })
  })
})

describe.skipIf(noSmallDisk !== null)(
  `a small disk${noSmallDisk === null ? '' : ` (skipped: ${noSmallDisk})`}`,
  () => {
    let disk: SmallDisk
    beforeEach(() => {
      disk = openSmallDisk(8)
    })
    afterEach(() => disk?.remove())

    /** Leaves so many bytes free. */
    async function fill(leftBytes: number) {
      const { bavail, bsize } = await statfs(disk.folder)
      await writeFile(join(disk.folder, 'filler'), Buffer.alloc(bavail * bsize - leftBytes, 1))
    }
    const makeRoom = () => rm(join(disk.folder, 'filler'))
    const aside = () => readdir(join(disk.folder, 'aside'))

    describe('on which a write runs out of room in the middle', () => {
      let files: StillFiles
      beforeEach(async () => {
        files = await openStillFolder(disk.folder)
      })
      const photo = () => {
        const bytes = randomBytes(2 * MIB)
        return { bytes, hash: createHash('sha256').update(bytes).digest() }
      }

      test('says so, leaves no part of a file, and goes on once there is room', async () => {
        const [before, refused] = [photo(), photo()]
        await files.keep(before.hash, before.bytes)
        await fill(MIB)
        await expect(files.keep(refused.hash, refused.bytes)).rejects.toMatchObject({ kind: 'no room' })
        expect(await aside()).toEqual([])
        expect(await files.read(refused.hash)).toBeNull()
        expect((await files.read(before.hash))?.equals(before.bytes)).toBe(true)
        await makeRoom()
        await files.keep(refused.hash, refused.bytes)
        expect((await files.read(refused.hash))?.equals(refused.bytes)).toBe(true)
      })
      test('what is there already is known without room', async () => {
        const { bytes, hash } = photo()
        await files.keep(hash, bytes)
        await fill(0)
        await files.keep(hash, bytes)
      })
    })

    describe('on which a station keeps its photos', () => {
      let service: TestService
      let camera: SetUpCamera
      afterEach(() => service?.stop())
      async function open(reserveBytes: number) {
        service = await openStation({
          config: { stillFolder: disk.folder, diskReserveBytes: reserveBytes },
          surroundings: { eyeEntry: builtFile('tests/stub-eye.js') },
        })
        camera = await addPointWithCamera(service, { name: 'Wren Bore' })
      }
      const photos = (count: number) =>
        Promise.all(
          Array.from({ length: count }, (_, i) =>
            photoTakenAt(CATTLE, `2026-11-24T20:00:${String(i).padStart(2, '0')}+10:30`),
          ),
        )
      const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest()
      const answerOf = z.object({ stills: z.array(z.object({ known: z.boolean() })) })

      test('the last room stays free, and photos are taken again once there is more', async () => {
        await open(2 * MIB)
        const [bytes] = await photos(1)
        await fill(2 * MIB)
        problemOf(await service.post('/api/stills', camera, bytes!), 507)
        expect((await service.ask('/api/health')).status).toBe(200)
        await makeRoom()
        expect((await service.post('/api/stills', camera, bytes!)).status).toBe(201)
      })
      test('many at once run it full: each is either kept whole and acknowledged or refused and nowhere', async () => {
        await open(0)
        const sent = await photos(24)
        await fill(sent[0]!.length * 8)
        const answers = await Promise.all(sent.map((bytes) => service.post('/api/stills', camera, bytes)))
        const taken = sent.filter((_bytes, i) => answers[i]!.status === 201)
        expect(taken.length).toBeGreaterThan(0)
        expect(taken.length).toBeLessThan(sent.length)
        for (const answer of answers) if (answer.status !== 201) problemOf(answer, 507)
        expect(await aside()).toEqual([])
        for (const bytes of taken) {
          expect((await service.house.files.read(hashOf(bytes)))?.equals(bytes)).toBe(true)
        }
        const rows = await service.house.ledger.selectFrom('stills').select('hash').execute()
        const names = (hashes: readonly Buffer[]) => hashes.map((hash) => hash.toString('hex')).sort()
        expect(names(rows.map(({ hash }) => hash))).toEqual(names(taken.map(hashOf)))
        // Sent again with room, those refused are new and those taken are known.
        await makeRoom()
        for (const [i, bytes] of sent.entries()) {
          const again = await service.post('/api/stills', camera, bytes)
          expect(answerOf.parse(again.json).stills[0]?.known).toBe(answers[i]!.status === 201)
        }
      }, 120_000)
    })
  },
)
