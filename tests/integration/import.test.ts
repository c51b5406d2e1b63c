/** `hooftally import`: a card or a folder beside a running service; may be stopped and run again. */
import { mkdir, mkdtemp, open, rm, stat, utimes, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest'
import { runImport } from '../../services/cli/import.ts'
import { stillPage } from '../../services/http/shapes.ts'
import { MAX_STILL_BYTES } from '../../services/intake/receive-still.ts'
import { Refusal } from '../../services/refusal.ts'
import { photoTakenAt, plainPhoto } from './photos.ts'
import { strictly, type TestService } from './service.ts'
import { addCamera, addPoint, openStation } from './station.ts'

let service: TestService
let folder: string
let said = ''
let complained = ''

beforeAll(async () => {
  service = await openStation()
  const pointId = await addPoint(service, { name: 'Wren Bore' })
  for (const name of ['Wren camera', 'Second camera', 'Third camera', 'Fourth camera']) {
    await addCamera(service, { name, pointId })
  }
})
afterAll(() => service?.stop())

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-card-'))
  vi.stubEnv('DATABASE_URL', service.databaseUrl)
  vi.stubEnv('HOOFTALLY_DATA', undefined)
  said = ''
  complained = ''
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    said += String(text)
    return true
  })
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    complained += String(text)
    return true
  })
})
afterEach(async () => {
  vi.restoreAllMocks()
  vi.unstubAllEnvs()
  await rm(folder, { recursive: true, force: true })
})

async function put(path: string, bytes: Buffer): Promise<string> {
  const file = join(folder, path)
  await mkdir(dirname(file), { recursive: true })
  await writeFile(file, bytes)
  return file
}

/** Larger than a photo may be, and no room taken on the disk. */
async function putTooLarge(path: string): Promise<void> {
  const file = await open(join(folder, path), 'w')
  await file.truncate(MAX_STILL_BYTES + 1)
  await file.close()
}

const importTo = (camera: string, from = folder) =>
  runImport([from, '--camera', camera, '--data', service.dataFolder])

const stillsOf = async (cameraName: string) => {
  const { stills } = strictly(stillPage, await service.ask('/api/stills?limit=200'))
  return stills.filter((still) => still.cameraName === cameraName)
}

/** A card as it comes out of a camera, with what else lies on cards. Times are past by any machine's clock. */
async function fillCard() {
  await put('DCIM/100/a.jpg', await photoTakenAt('galah-well-04.jpg', '2024-11-24T08:00:00+10:30'))
  await put('DCIM/100/b.jpg', await photoTakenAt('galah-well-07.jpg', '2024-11-24T21:00:00+10:30'))
  await put('DCIM/101/WB_20241125_213005.jpg', await plainPhoto('galah-well-00.jpg'))
  const undated = await put('DCIM/101/undated.jpg', await plainPhoto('galah-well-01.jpg'))
  const at = new Date('2024-11-26T10:00:00Z')
  await utimes(undated, at, at)
  await put('DCIM/101/broken.jpg', Buffer.from('no photo'))
  await put('.hidden.jpg', await plainPhoto('galah-well-02.jpg'))
  await put('.Trashes/501/old.jpg', await plainPhoto('galah-well-03.jpg'))
}

describe('a card with folders', () => {
  test('every photo is taken, each with the best time it has; what is hidden is left', async () => {
    await fillCard()
    const wakes = vi.spyOn(service.house.queue, 'refill')
    expect(await importTo('Wren camera')).toBe(0)
    expect(said).toContain(
      '5 files: 5 new, 0 known, 1 unreadable, 0 with a doubtful clock, 0 not taken, ' +
        'taken 2024-11-24T08:00:00+10:30 to 2024-11-26T20:30:00+10:30.',
    )
    // The service is told, and does not wait for its minute.
    await vi.waitFor(() => expect(wakes).toHaveBeenCalled(), { timeout: 5_000 })
    await service.waitUntilRead()
    const stills = await stillsOf('Wren camera')
    expect(stills.map(({ takenAt, takenFrom, state }) => [takenAt, takenFrom, state]).reverse()).toEqual(
      expect.arrayContaining([
        ['2024-11-24T08:00:00+10:30', 'exif with offset', 'done'],
        ['2024-11-24T21:00:00+10:30', 'exif with offset', 'done'],
        ['2024-11-25T21:30:05+10:30', 'file name', 'done'],
        ['2024-11-26T20:30:00+10:30', 'file time', 'done'],
      ]),
    )
    expect(stills.filter(({ state }) => state === 'unreadable')).toMatchObject([
      { reason: expect.stringContaining('not a photo') },
    ])
    expect(stills).toHaveLength(5)
  })
  test('run again, all of it is known and nothing is doubled', async () => {
    await fillCard()
    expect(await importTo('Wren camera')).toBe(0)
    expect(said).toContain('5 files: 0 new, 5 known, 1 unreadable')
    expect(await stillsOf('Wren camera')).toHaveLength(5)
  })
  test('the same card from another camera is other photos', async () => {
    await put('a.jpg', await photoTakenAt('galah-well-04.jpg', '2024-11-24T08:00:00+10:30'))
    expect(await importTo('Second camera')).toBe(0)
    expect(said).toContain('1 files: 1 new, 0 known')
    await service.waitUntilRead()
  })
})

describe('stopped half way', () => {
  test('what was taken is kept and said; run again it goes on, and only the rest is new', async () => {
    for (const name of ['a', 'c', 'd']) {
      await put(
        `${name}.jpg`,
        await photoTakenAt('galah-well-00.jpg', `2024-11-24T0${name.charCodeAt(0) - 96}:00:00+10:30`),
      )
    }
    await putTooLarge('b.jpg')
    // Ctrl-C arrives as the second file is complained of.
    vi.spyOn(process.stderr, 'write').mockImplementationOnce((text) => {
      complained += String(text)
      process.emit('SIGINT')
      return true
    })
    expect(await importTo('Third camera')).toBe(1)
    expect(said).toContain('Stopped. 4 files: 1 new, 0 known')
    expect(said).toContain('Run the same command again to go on.')
    await rm(join(folder, 'b.jpg'))
    said = ''
    expect(await importTo('Third camera')).toBe(0)
    expect(said).toContain('3 files: 2 new, 1 known')
    await service.waitUntilRead()
    expect(await stillsOf('Third camera')).toMatchObject([
      { state: 'done' },
      { state: 'done' },
      { state: 'done' },
    ])
  })
  test('it leaves no listener for Ctrl-C behind', async () => {
    const before = process.listenerCount('SIGINT')
    await put('a.txt', Buffer.from('no photo'))
    await importTo('Third camera')
    expect(process.listenerCount('SIGINT')).toBe(before)
  })
})

test('a file too large is named and left, the others are taken, and the command says so at its end', async () => {
  await putTooLarge('huge.jpg')
  await put('good.jpg', await photoTakenAt('galah-well-00.jpg', '2024-11-23T09:00:00+10:30'))
  expect(await importTo('Fourth camera')).toBe(1)
  expect(complained).toContain('huge.jpg: not taken: larger than 30 MB')
  expect(said).toContain('1 new, 0 known, 0 unreadable, 0 with a doubtful clock, 1 not taken')
  await service.waitUntilRead()
})

test('an import leaves what the service is just writing, and clears what a killed one left an hour ago', async () => {
  const parts = ['just-written', 'left-behind'].map((name) =>
    join(service.dataFolder, 'stills', 'aside', name),
  )
  for (const part of parts) await writeFile(part, 'half')
  const old = new Date(Date.now() - 2 * 3_600_000)
  await utimes(parts[1]!, old, old)
  await put('a.jpg', Buffer.from('no photo either'))
  await importTo('Fourth camera')
  expect((await stat(parts[0]!)).size).toBe(4)
  await expect(stat(parts[1]!)).rejects.toThrow('ENOENT')
})

describe('what is refused before anything is taken', () => {
  const refusal = async (args: readonly string[]) => {
    const fault: unknown = await runImport(args).then(
      () => null,
      (caught: unknown) => caught,
    )
    expect(fault).toBeInstanceOf(Refusal)
    return fault as Refusal
  }
  test('a camera that does not exist: the remedy names those that do', async () => {
    await put('a.jpg', Buffer.from('x'))
    const { kind, field, message, remedy } = await refusal([
      folder,
      '--camera',
      'Wren Camera',
      '--data',
      service.dataFolder,
    ])
    expect([kind, field]).toEqual(['not found', 'camera'])
    expect(message).toContain('"Wren Camera"')
    expect(remedy).toContain('"Wren camera"')
  })
  test('a folder that is not there', async () => {
    const { field, remedy } = await refusal([join(folder, 'none'), '--camera', 'Wren camera'])
    expect(field).toBe('FOLDER')
    expect(remedy).toContain('card')
  })
  test('no camera named', async () => {
    expect(await refusal([folder])).toMatchObject({ field: '--camera', kind: 'bad input' })
  })
  test('no folder named', async () => {
    expect(await refusal(['--camera', 'Wren camera'])).toMatchObject({ field: 'FOLDER' })
  })
  test('an option that is none', async () => {
    expect((await refusal([folder, '--camera', 'Wren camera', '--fast'])).message).toContain('--fast')
  })
  test('an empty folder is no fault', async () => {
    expect(await importTo('Wren camera')).toBe(0)
    expect(said).toContain('0 files: 0 new')
  })
})
