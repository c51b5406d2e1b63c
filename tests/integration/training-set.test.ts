/** Checked photos as a training set: the COCO data format, nothing unclear, nobody's picture who was marked, run again. */
import { execFileSync } from 'node:child_process'
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { buffer } from 'node:stream/consumers'
import sharp from 'sharp'
import { extract } from 'tar-stream'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { z } from 'zod'
import { trainingSetRefusal } from '../../services/cli/training-set.ts'
import { openIntakeDesk } from '../../services/intake/desk.ts'
import { takeStill } from '../../services/intake/receive-still.ts'
import { parseInstant } from '../../services/station-time.ts'
import { findCameraByName } from '../../services/store/cameras.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { recordResult } from '../../services/store/results.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import type { SaidWord } from '../../services/tally/whole-word.ts'
import { sendTrainingSet } from '../../services/training-set/tar.ts'
import { writeTrainingSet } from '../../services/training-set/write.ts'
import type { Instant, Tally } from '../../services/words.ts'
import { noSmallDisk, openSmallDisk } from './small-disk.ts'
import { openSmallStation, type SmallStation, seen } from './small-station.ts'

const EVENING = parseInstant('2026-10-01T20:00:00+09:30')
const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const never = new AbortController().signal

/**
 * The COCO data format for object detection (cocodataset.org, Data format, sections 0 and 1), as far as detection asks
 * for it: every field it names is there and of its type. An image's `license`, `flickr_url` and `coco_url` are left out:
 * nothing here has them.
 */
const cocoShape = z.strictObject({
  info: z.strictObject({
    year: z.int(),
    version: z.string(),
    description: z.string(),
    contributor: z.string(),
    url: z.string(),
    date_created: z.iso.datetime({ offset: true }),
  }),
  licenses: z.array(z.strictObject({ id: z.int(), name: z.string(), url: z.string() })),
  images: z.array(
    z.strictObject({
      id: z.int(),
      width: z.int().positive(),
      height: z.int().positive(),
      file_name: z.string(),
      date_captured: z.string().regex(/^\d{4}-\d\d-\d\d \d\d:\d\d:\d\d$/),
    }),
  ),
  annotations: z.array(
    z.strictObject({
      id: z.int(),
      image_id: z.int(),
      category_id: z.int(),
      segmentation: z.array(z.array(z.number())),
      area: z.number().positive(),
      bbox: z.tuple([z.number(), z.number(), z.number(), z.number()]),
      iscrowd: z.union([z.literal(0), z.literal(1)]),
    }),
  ),
  categories: z.array(z.strictObject({ id: z.int(), name: z.string(), supercategory: z.string() })),
})

let station: SmallStation
let files: StillFiles
let place: string
let folder: string
let photos = 0
beforeEach(async () => {
  station = await openSmallStation()
  place = await mkdtemp(join(tmpdir(), 'hooftally-training-'))
  files = await openStillFolder(join(place, 'stills'))
  folder = join(place, 'set')
})
afterEach(async () => {
  await station.close()
  await rm(place, { recursive: true, force: true })
})

/** A photo of 640 x 360 pixels, as its result says. `turned`: lying on its side, with EXIF that says so. */
async function photo(tally: Tally, turned = false): Promise<number> {
  const { ledger } = station
  const i = ++photos
  const [width, height] = turned ? [360, 640] : [640, 360]
  const plain = sharp({
    create: { width, height, channels: 3, background: { r: (i * 53) % 256, g: (i * 101) % 256, b: 120 } },
  })
  const bytes = await plain
    .withMetadata({ orientation: turned ? 6 : 1 })
    .jpeg()
    .toBuffer()
  const at = (EVENING + i * 3_600_000) as Instant
  const still = await takeStill(
    { desk: openIntakeDesk(ledger), files, onReceived: () => undefined },
    {
      camera: await findCameraByName(ledger, 'first'),
      bytes,
      fileName: `photo-${i}.jpg`,
      fileTime: null,
      senderAt: at,
      arrivedAt: at,
    },
  )
  await recordResult(ledger, still.id, seen(tally))
  return still.id
}

const say = (word: SaidWord) => recordChecks(station.ledger, { who: 'station', at: NOW, words: [word] })
const write = (into = folder) =>
  writeTrainingSet({ ledger: station.ledger, files, folder: into, now: NOW, signal: never })
const datasetIn = async (where = folder) =>
  cocoShape.parse(JSON.parse(await readFile(join(where, 'annotations.json'), 'utf8')))

/** What is on each photo, by name. */
async function told(): Promise<Record<number, string[]>> {
  const { images, annotations, categories } = await datasetIn()
  const nameOf = new Map(categories.map(({ id, name }) => [id, name]))
  return Object.fromEntries(
    images.map(({ id }) => [
      id,
      annotations.filter((one) => one.image_id === id).map((one) => nameOf.get(one.category_id)!),
    ]),
  )
}

it('holds each checked photo whose boxes can be told, with the kind a person gave them, and drawn boxes', async () => {
  const agreed = await photo({ camel: 2, cattle: 1 })
  await say({ stillId: agreed, verdict: 'agreed' })
  const corrected = await photo({ horse: 2 })
  await say({ stillId: corrected, verdict: 'corrected', counts: { donkey: 2 } })
  const sheep = await photo({ goat: 1 })
  await say({ stillId: sheep, verdict: 'corrected', counts: {}, others: { sheep: 1 } })
  const nothing = await photo({ camel: 1 })
  await say({ stillId: nothing, verdict: 'corrected', counts: {} })
  const missed = await photo({ camel: 1 })
  const drawn = [{ species: 'goat', box: [300, 200, 340, 260] }] as const
  await say({ stillId: missed, verdict: 'corrected', counts: { camel: 1, goat: 1 }, boxes: drawn })
  const unclear = await photo({ camel: 2, horse: 1 })
  await say({ stillId: unclear, verdict: 'corrected', counts: { camel: 1, horse: 1 } })
  await photo({ camel: 1 })
  const withdrawn = await photo({ camel: 1 })
  await say({ stillId: withdrawn, verdict: 'agreed' })
  await say({ stillId: withdrawn, verdict: 'withdrawn' })

  expect(await write()).toEqual({ photos: 5, animals: 8, unclear: 1, gone: 0 })
  expect(await told()).toEqual({
    [agreed]: ['camel', 'camel', 'cattle'],
    [corrected]: ['donkey', 'donkey'],
    [sheep]: ['sheep'],
    [nothing]: [],
    [missed]: ['camel', 'goat'],
  })
  const { annotations, categories } = await datasetIn()
  expect(
    annotations.filter(({ image_id }) => image_id === missed).map(({ bbox, area }) => [bbox, area]),
  ).toEqual([
    [[0, 0, 40, 40], 1600],
    [[300, 200, 40, 60], 2400],
  ])
  expect(categories.map(({ id, name }) => `${id} ${name}`)).toEqual([
    '1 cattle',
    '2 camel',
    '3 horse',
    '4 donkey',
    '5 goat',
    '6 sheep',
  ])
})

it('is a data set by the published format: ids once, boxes inside pictures that are there and as large as said', async () => {
  for (const tally of [{ camel: 3 }, { cattle: 2 }, {}])
    await say({ stillId: await photo(tally), verdict: 'agreed' })
  await say({ stillId: await photo({ goat: 1 }, true), verdict: 'agreed' })
  await write()
  const { info, images, annotations, categories } = await datasetIn()
  expect(info.date_created).toBe('2026-10-20T08:00:00+10:30')
  for (const list of [images, annotations, categories])
    expect(new Set(list.map(({ id }) => id)).size).toBe(list.length)
  for (const {
    image_id,
    category_id,
    bbox: [x, y, width, height],
    area,
  } of annotations) {
    const image = images.find(({ id }) => id === image_id)!
    expect(categories.some(({ id }) => id === category_id)).toBe(true)
    expect(x >= 0 && y >= 0 && x + width <= image.width && y + height <= image.height).toBe(true)
    expect(area).toBeCloseTo(width * height, 1)
  }
  for (const { file_name, width, height } of images) {
    const picture = await sharp(join(folder, 'images', file_name)).metadata()
    // As any reader sees it that knows nothing of EXIF.
    expect([picture.width, picture.height, picture.orientation ?? 1]).toEqual([width, height, 1])
  }
  expect(images[0]!.date_captured).toMatch(/^2026-10-0\d \d\d:00:00$/)
})

it('never holds a photo on which a person was marked, and lets one go that was written before', async () => {
  const first = await photo({ camel: 1 })
  await say({ stillId: first, verdict: 'agreed', marks: ['person'] })
  const second = await photo({ camel: 1 })
  await say({ stillId: second, verdict: 'agreed' })
  await write()
  expect(await readdir(join(folder, 'images'))).toEqual([`photo-${second}.jpeg`])
  await say({ stillId: second, verdict: 'marked', marks: ['person'] })
  expect(await write()).toMatchObject({ photos: 0 })
  expect(await readdir(join(folder, 'images'))).toEqual([])
})

it('run again it is the same, mends what was cut short, and follows new words', async () => {
  const id = await photo({ horse: 1 })
  await say({ stillId: id, verdict: 'agreed' })
  await write()
  const before = await readFile(join(folder, 'annotations.json'), 'utf8')
  await writeFile(join(folder, 'images', `photo-${id}.jpeg`), 'half')
  await writeFile(join(folder, 'notes.txt'), 'mine')
  await write()
  expect(await readFile(join(folder, 'annotations.json'), 'utf8')).toBe(before)
  expect((await sharp(join(folder, 'images', `photo-${id}.jpeg`)).metadata()).width).toBe(640)
  await say({ stillId: id, verdict: 'corrected', counts: { donkey: 1 } })
  await write()
  expect(await told()).toEqual({ [id]: ['donkey'] })
  expect((await readdir(folder)).sort()).toEqual(['annotations.json', 'images', 'notes.txt'])
})

it('says how many photos have lost their bytes', async () => {
  const id = await photo({ camel: 1 })
  await say({ stillId: id, verdict: 'agreed' })
  const { hash } = await station.ledger.selectFrom('stills').select('hash').executeTakeFirstOrThrow()
  await files.drop(hash)
  expect(await write()).toMatchObject({ photos: 0, gone: 1 })
})

it('is the same as one file', async () => {
  await say({ stillId: await photo({ camel: 2 }), verdict: 'agreed' })
  await say({ stillId: await photo({ goat: 1 }, true), verdict: 'agreed' })
  await write()
  const parts = new Map<string, Buffer>()
  const untar = extract()
  const read = (async () => {
    for await (const entry of untar) parts.set(entry.header.name, await buffer(entry))
  })()
  const wire = new PassThrough()
  const whole = buffer(wire)
  await sendTrainingSet({ ledger: station.ledger, files, now: NOW, signal: never }, wire)
  untar.end(await whole)
  await read
  const names = (await readdir(join(folder, 'images'))).map((name) => `images/${name}`)
  expect([...parts.keys()]).toEqual([...names.sort(), 'annotations.json'])
  for (const [name, bytes] of parts) expect(bytes.equals(await readFile(join(folder, name)))).toBe(true)
})

it('as one file it ends when whoever reads it goes away', async () => {
  for (let i = 0; i < 3; i++) await say({ stillId: await photo({ camel: 1 }), verdict: 'agreed' })
  const reader = new PassThrough({ highWaterMark: 512 })
  reader.once('data', () => reader.destroy())
  await expect(
    sendTrainingSet({ ledger: station.ledger, files, now: NOW, signal: AbortSignal.timeout(5_000) }, reader),
  ).rejects.toThrow()
})

it('leaves a folder with another’s annotations alone', async () => {
  await writeTrainingSet({ ledger: station.ledger, files, folder, now: NOW, signal: never })
  await writeFile(join(folder, 'annotations.json'), '{"info": {"description": "Zoo"}}')
  await expect(write()).rejects.toThrow('not written by this command')
})

it.skipIf(noSmallDisk !== null)(
  `a full disk is said in words (${noSmallDisk ?? 'a disk of 1 MB'})`,
  async () => {
    for (let i = 0; i < 4; i++) await say({ stillId: await photo({ camel: 1 }), verdict: 'agreed' })
    const disk = openSmallDisk(1)
    try {
      await writeFile(join(disk.folder, 'fills-it'), Buffer.alloc(1_040_000))
      const fault = await write(join(disk.folder, 'set')).then(
        () => null,
        (thrown: unknown) => thrown,
      )
      expect(trainingSetRefusal(fault, { folder: disk.folder, stopped: false })).toMatchObject({
        kind: 'no room',
      })
    } finally {
      disk.remove()
    }
  },
)

it('a folder that can’t be written to is said in words', async () => {
  // Where folders can't be made at all Node.js would try for ever.
  const nowhere = await write('/proc/nowhere').then(
    () => null,
    (thrown: unknown) => thrown,
  )
  expect(trainingSetRefusal(nowhere, { folder: '/proc/nowhere', stopped: false })).toMatchObject({
    kind: 'bad input',
  })
  await writeFile(join(place, 'file'), '')
  const fault = await write(join(place, 'file', 'set')).then(
    () => null,
    (thrown: unknown) => thrown,
  )
  expect(trainingSetRefusal(fault, { folder: place, stopped: false })).toMatchObject({ kind: 'bad input' })
  expect(trainingSetRefusal(new Error('odd'), { folder: place, stopped: false })).toMatchObject({
    message: 'odd',
  })
})

const python = process.env.HOOFTALLY_TEST_COCO ?? 'python3'
const noPycocotools = whyNoPycocotools()

function whyNoPycocotools(): string {
  try {
    execFileSync(python, ['-c', 'import pycocotools'], { stdio: 'ignore' })
    return ''
  } catch {
    return ' (skipped: no Python with pycocotools here)'
  }
}

it.skipIf(noPycocotools !== '')(`the format’s own reader reads it${noPycocotools}`, async () => {
  await say({ stillId: await photo({ camel: 3, cattle: 1 }), verdict: 'agreed' })
  await say({ stillId: await photo({ goat: 1 }), verdict: 'agreed' })
  await write()
  const script = `
import sys
from pycocotools.coco import COCO
from pycocotools.cocoeval import COCOeval
truth = COCO(sys.argv[1])
found = truth.loadRes([{'image_id': a['image_id'], 'category_id': a['category_id'], 'bbox': a['bbox'], 'score': 1.0} for a in truth.dataset['annotations']])
judged = COCOeval(truth, found, 'bbox')
judged.evaluate(); judged.accumulate(); judged.summarize()
print('told', len(truth.imgs), len(truth.anns), round(judged.stats[0], 3))`
  const said = execFileSync(python, ['-c', script, join(folder, 'annotations.json')], { encoding: 'utf8' })
  expect(said).toContain('told 2 5 1.0')
})
