/** A drop folder: photos are taken when they are whole, once, whatever happens meanwhile, and nothing else is read. */
import { spawnSync } from 'node:child_process'
import {
  chmod,
  mkdir,
  mkdtemp,
  open,
  readdir,
  readFile,
  rename,
  symlink,
  utimes,
  writeFile,
} from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { listAsideFiles } from '../../services/store/dropped-files.ts'
import { saveIntakeLimits } from '../../services/store/intake-limits.ts'
import { removeSource } from '../../services/store/sources.ts'
import { plainPhoto } from './photos.ts'
import { openSourceStation, type SourceStation } from './source-place.ts'
import { photoLike } from './stub-photos.ts'

let station: SourceStation
let folder: string
let source: number
let made = 0

beforeAll(async () => {
  station = await openSourceStation()
})
afterAll(() => station.close())

/** Each test has a folder and a source of its own. */
async function openFolder(settings: object = {}): Promise<void> {
  made += 1
  folder = join(station.root, `camera ${made}`)
  await mkdir(folder)
  source = await station.add('drop folder', { folder, ...settings })
}
beforeEach(() => openFolder())

const photo = (word: string) => photoLike(`${made} ${word}`)
const put = async (name: string, bytes: Buffer) => await writeFile(join(folder, name), bytes)
/** The names of this test's photos in the ledger. */
async function taken(): Promise<Array<string | null>> {
  return (await station.stills()).slice(before).map(({ file_name }) => file_name)
}
let before = 0
beforeEach(async () => {
  before = (await station.stills()).length
})
/** Long enough for files to settle: two looks. */
async function settle(): Promise<void> {
  await station.round()
  station.pass(11)
  await station.round()
  station.pass(11)
}
const aside = async () => (await listAsideFiles(station.ledger, source, 20)).files
const reason = async () => (await station.source(source)).last_reason

describe('what is taken', () => {
  test('a photo that has stopped changing, by its name, and moved out of the way', async () => {
    await put('IMG_20261124_213005.jpg', await photo('a'))
    await settle()
    expect(await taken()).toEqual(['IMG_20261124_213005.jpg'])
    expect((await station.stills()).at(-1)?.taken_from).toBe('file name')
    expect(await readdir(folder)).toEqual(['taken'])
    expect(await readdir(join(folder, 'taken'))).toEqual(['IMG_20261124_213005.jpg'])
    expect(await reason()).toBeNull()
  })
  test('folders within it too, as cameras make one a day', async () => {
    await mkdir(join(folder, '2026', '11'), { recursive: true })
    await put('2026/11/a.jpg', await photo('a'))
    await settle()
    expect(await taken()).toEqual(['2026/11/a.jpg'])
    expect(await readdir(join(folder, 'taken', '2026', '11'))).toEqual(['a.jpg'])
  })
  test('not one that is still growing: each new byte makes it wait again', async () => {
    const bytes = await photo('slow writer')
    const third = Math.ceil(bytes.length / 3)
    const file = await open(join(folder, 'slow.jpg'), 'w')
    for (let i = 0; i < 3; i += 1) {
      await file.write(bytes.subarray(i * third, (i + 1) * third))
      await file.sync()
      await station.round()
      expect(await taken()).toEqual([])
      station.pass(9)
    }
    await file.close()
    await station.round()
    expect(await taken()).toEqual([])
    station.pass(11)
    await station.round()
    expect(await taken()).toEqual(['slow.jpg'])
  })
  test('not one that stopped in the middle; when the writer goes on, it is', async () => {
    const bytes = await photo('stalled writer')
    await put('stalled.jpg', bytes.subarray(0, bytes.length - 40))
    await settle()
    await settle()
    expect(await taken()).toEqual([])
    expect(await readdir(folder)).toEqual(['stalled.jpg'])
    await put('stalled.jpg', bytes)
    await settle()
    expect(await taken()).toEqual(['stalled.jpg'])
    expect(await aside()).toEqual([])
  })
  test('not one whose room is set aside and not filled yet', async () => {
    const bytes = await photo('set aside')
    const hollow = Buffer.concat([bytes.subarray(0, bytes.length - 100), Buffer.alloc(100)])
    await put('hollow.jpg', hollow)
    await settle()
    expect(await taken()).toEqual([])
    await put('hollow.jpg', bytes)
    await settle()
    expect(await taken()).toEqual(['hollow.jpg'])
  })
  test('what begins with a dot is left alone, and taken once it has its name', async () => {
    await put('.part.jpg', await photo('dotted'))
    await settle()
    expect(await taken()).toEqual([])
    await rename(join(folder, '.part.jpg'), join(folder, 'whole.jpg'))
    await settle()
    expect(await taken()).toEqual(['whole.jpg'])
  })
  test('a photo that was answered for before the service was killed is not taken twice', async () => {
    const bytes = await photo('killed')
    await put('killed.jpg', bytes)
    await settle()
    // As a kill leaves it between the answer and the move.
    await put('killed.jpg', bytes)
    await station.restart()
    await settle()
    expect(await taken()).toEqual(['killed.jpg'])
    expect(await readdir(join(folder, 'taken'))).toEqual(['killed (2).jpg', 'killed.jpg'])
  })
  test('a restart in the middle of many loses none and doubles none', async () => {
    for (let i = 0; i < 12; i += 1) await put(`many ${i}.jpg`, await photo(`many ${i}`))
    await station.round()
    station.pass(11)
    const round = station.round()
    await station.restart()
    await round
    await settle()
    expect((await taken()).toSorted()).toEqual(
      Array.from({ length: 12 }, (_, i) => `many ${i}.jpg`).toSorted(),
    )
  })
  test('a clock that is set back holds nothing up', async () => {
    await put('a.jpg', await photo('a'))
    await station.round()
    station.pass(-86_400 * 3)
    await settle()
    await settle()
    expect(await taken()).toEqual(['a.jpg'])
    station.pass(86_400 * 3)
  })
  test('a clock that is set ahead sets aside nothing that is still being written', async () => {
    const bytes = await photo('ahead')
    await put('ahead.jpg', bytes.subarray(0, bytes.length - 40))
    await settle()
    station.pass(3 * 3_600)
    await settle()
    expect(await aside()).toEqual([])
    await put('ahead.jpg', bytes)
    await settle()
    expect(await taken()).toEqual(['ahead.jpg'])
  })
})

describe('what becomes of a file afterwards', () => {
  test('removed, where so set', async () => {
    await openFolder({ afterwards: 'remove' })
    await put('a.jpg', await photo('a'))
    await settle()
    expect(await taken()).toEqual(['a.jpg'])
    expect(await readdir(folder)).toEqual([])
  })
  test('left, where so set: known after a restart without being read again, and taken anew when written over', async () => {
    await openFolder({ afterwards: 'leave' })
    await put('a.jpg', await photo('a'))
    await settle()
    // A file that nobody may read any more would be set aside if it were read.
    await put('b.jpg', await photo('b'))
    await station.restart()
    await settle()
    expect(await taken()).toEqual(['a.jpg', 'b.jpg'])
    expect((await readdir(folder)).toSorted()).toEqual(['a.jpg', 'b.jpg'])
    await put('a.jpg', await photo('another a'))
    await utimes(join(folder, 'a.jpg'), 1_800_000_000, 1_800_000_000)
    await settle()
    expect(await taken()).toEqual(['a.jpg', 'b.jpg', 'a.jpg'])
  })
  test('a file that cannot be moved is taken once, told of, and moved when it can be', async () => {
    await put('a.jpg', await photo('a'))
    await writeFile(join(folder, 'taken'), 'a file where the folder should be')
    await settle()
    await station.round()
    expect((await taken()).filter((name) => name === 'a.jpg')).toHaveLength(1)
    expect(await reason()).toMatch(/Photos come in, but a file could not be put away/)
    await rename(join(folder, 'taken'), join(folder, '.moved away'))
    station.pass(11)
    await station.round()
    expect(await readdir(join(folder, 'taken'))).toContain('a.jpg')
    expect(await reason()).toBeNull()
  })
})

describe('what never becomes a photo', () => {
  beforeEach(() => openFolder({ patienceMinutes: 2 }))
  /** Looks every minute, until its patience is over but for the last. */
  async function patience(): Promise<void> {
    for (let minute = 0; minute < 2; minute += 1) {
      station.pass(61)
      await station.round()
    }
    station.pass(61)
  }

  test('is set aside with its reason, and named', async () => {
    const bytes = await plainPhoto('galah-well-00.jpg')
    await put('cut.jpg', bytes.subarray(0, Math.round(bytes.length / 2)))
    await put('notes.txt', Buffer.from('battery changed'))
    await put('empty.jpg', Buffer.alloc(0))
    await settle()
    expect(await aside()).toEqual([])
    await patience()
    await station.round()
    expect(await taken()).toEqual([])
    expect((await aside()).map(({ path, reason: why }) => [path, why]).toSorted()).toEqual([
      ['set aside/cut.jpg', 'damaged or cut short'],
      ['set aside/empty.jpg', 'the file is empty'],
      ['set aside/notes.txt', 'not a photo (not a JPEG, PNG or WebP)'],
    ])
    expect((await readFile(join(folder, 'set aside', 'notes.txt'))).toString()).toBe('battery changed')
  })
  test('is forgotten when somebody clears it away', async () => {
    await put('notes.txt', Buffer.from('no photo'))
    await settle()
    await patience()
    await station.round()
    expect(await aside()).toHaveLength(1)
    await rename(join(folder, 'set aside', 'notes.txt'), join(folder, '.gone'))
    station.pass(11)
    await station.round()
    expect(await aside()).toEqual([])
  })
  test('over the limit of bytes: set aside, never read', async () => {
    const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: null, stillsADay: null }
    await saveIntakeLimits(station.ledger, { ...limits, stillMegabytes: 0.1 })
    await put('huge.jpg', Buffer.alloc(200_000, 1))
    await settle()
    await patience()
    await station.round()
    await saveIntakeLimits(station.ledger, limits)
    expect((await aside()).map(({ reason: why }) => why)).toEqual(['0.2 MB, over the limit of 0.1 MB'])
  })
  test('a photo with bytes of the maker’s behind its end is not kept waiting', async () => {
    const bytes = Buffer.concat([await photo('maker'), Buffer.alloc(3_000, 0), Buffer.from('MAKER NOTE')])
    await put('maker.jpg', bytes)
    await settle()
    expect(await taken()).toEqual(['maker.jpg'])
  })
  test('a photo whose end is further from the end of the file waits, and is taken at last', async () => {
    await put('long-tail.jpg', Buffer.concat([await photo('long tail'), Buffer.alloc(80_000, 1)]))
    await settle()
    expect(await taken()).toEqual([])
    await patience()
    await station.round()
    expect(await taken()).toEqual(['long-tail.jpg'])
  })
})

test('over a limit photos wait in the folder, and come when they may', async () => {
  const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: 2, stillsADay: null }
  await saveIntakeLimits(station.ledger, limits)
  for (const name of ['a', 'b', 'c', 'd']) await put(`${name}.jpg`, await photo(name))
  await station.round()
  station.pass(11)
  await station.round()
  const first = await taken()
  expect(first.length).toBeLessThan(4)
  expect(await reason()).toMatch(
    /as many photos as it may in a minute \(2\)\. What is in the folder waits there\./,
  )
  expect((await station.source(source)).failures).toBe(0)
  for (let i = 0; i < 8; i += 1) {
    station.pass(31)
    await station.round()
  }
  await saveIntakeLimits(station.ledger, { ...limits, stillsAMinute: null })
  expect(await taken()).toEqual(['a.jpg', 'b.jpg', 'c.jpg', 'd.jpg'])
})

describe('no other file of the machine can be read', () => {
  const secret = async () => {
    const elsewhere = await mkdtemp(join(dirname(station.root), 'elsewhere-'))
    await writeFile(join(elsewhere, 'secret.jpg'), await photo('secret'))
    return elsewhere
  }
  const words = async (settings: object) => {
    const id = await station.add('drop folder', settings)
    return (await station.tryNow(id)).words
  }
  test('a folder outside of the roots', async () => {
    expect(await words({ folder: await secret() })).toMatch(
      /lies outside of the folders that the service may read/,
    )
    expect(await words({ folder: '../..' })).toMatch(/lies outside/)
    expect(await words({ folder: '/' })).toMatch(/lies outside/)
  })
  test('a folder that begins like a root and is another', async () => {
    await mkdir(`${station.root}-beside`)
    expect(await words({ folder: `${station.root}-beside` })).toMatch(/lies outside/)
  })
  test('a link under a root that leads out of it', async () => {
    const link = join(station.root, `link ${made}`)
    await symlink(await secret(), link)
    expect(await words({ folder: link })).toMatch(/leads out of them/)
  })
  test('links in the folder, to a file or to a folder', async () => {
    const elsewhere = await secret()
    await symlink(join(elsewhere, 'secret.jpg'), join(folder, 'file-link.jpg'))
    await symlink(elsewhere, join(folder, 'folder-link'))
    for (let minute = 0; minute < 32; minute += 1) {
      station.pass(61)
      await station.round()
    }
    expect(await taken()).toEqual([])
    expect(await aside()).toEqual([])
  })
  test('a pipe holds nothing up', async () => {
    spawnSync('mkfifo', [join(folder, 'pipe.jpg')])
    await put('a.jpg', await photo('a'))
    await settle()
    expect(await taken()).toEqual(['a.jpg'])
  })
  test('a `taken` that leads out of the folder: nothing is written there', async () => {
    const elsewhere = await secret()
    await symlink(elsewhere, join(folder, 'taken'))
    await put('a.jpg', await photo('a'))
    await settle()
    expect(await readdir(elsewhere)).toEqual(['secret.jpg'])
    expect(await reason()).toMatch(/could not be put away/)
  })
  test('without a root there is no drop folder', async () => {
    const bare = await openSourceStation({ dropRoots: [] })
    const id = await bare.add('drop folder', { folder: '/tmp' })
    expect((await bare.tryNow(id)).words).toMatch(
      /without leave to read any folder\. Start it with --drop-root/,
    )
    await bare.close()
  })
  test('a folder that lies in another source’s is refused: a photo is one camera’s', async () => {
    await mkdir(join(folder, 'inner'))
    const inner = { folder: join(folder, 'inner') }
    const second = await station.add('drop folder', inner)
    await settle()
    const told = async (id: number) => (await station.source(id)).last_reason
    // The first to be there keeps it.
    expect([await told(source), await told(second)]).toEqual([
      null,
      expect.stringMatching(/is another way in already/),
    ])
    await removeSource(station.ledger, source)
    station.pass(11)
    await station.round()
    expect(await told(second)).toBeNull()
    const third = await station.add('drop folder', { folder })
    expect((await station.tryNow(third)).words).toMatch(/is another way in already/)
  })
})

describe('tried at once', () => {
  test('what has settled is taken without waiting for the schedule', async () => {
    await put('a.jpg', await photo('a'))
    const passing = setInterval(() => station.pass(1), 300)
    const tried = await station.tryNow(source)
    clearInterval(passing)
    expect(tried).toMatchObject({ outcome: 'well', words: null })
    expect(tried.came).toHaveLength(1)
  })
  test('an empty folder says so, and so does one that is not there', async () => {
    expect((await station.tryNow(source)).words).toBe('The folder can be read; there is no new photo in it.')
    await rename(folder, `${folder} away`)
    expect((await station.tryNow(source)).words).toMatch(/is not there\. Make the folder/)
  })
  test.skipIf(process.getuid?.() === 0)(
    'a folder that may not be read says so (skipped as root, whom no folder keeps out)',
    async () => {
      await chmod(folder, 0o000)
      expect((await station.tryNow(source)).outcome).toBe('failed')
      await chmod(folder, 0o700)
    },
  )
})
