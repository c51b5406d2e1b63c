/** Empty photos go by the owner's rule; nothing that is still needed goes with them, whatever happens in between. */
import { createHash, randomBytes } from 'node:crypto'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'kysely'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { startDailyRetention } from '../../services/daily-retention.ts'
import { openIntakeDesk } from '../../services/intake/desk.ts'
import { takeStill } from '../../services/intake/receive-still.ts'
import { findCamera } from '../../services/store/cameras.ts'
import { readKeeping, saveKeepingRule } from '../../services/store/keeping.ts'
import { runRetention, wouldFree } from '../../services/store/retention.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { KEPT, type KeepingRule, leftOf } from '../../services/tally/keeping.ts'
import type { Instant } from '../../services/words.ts'
import { photoTakenAt } from './photos.ts'
import { openSmallStation, record, type SmallStation } from './small-station.ts'

const DAY_MS = 86_400_000
const NOW = Date.UTC(2026, 10, 25, 2) as Instant
const daysAgo = (days: number) => (NOW - days * DAY_MS) as Instant
const DROP: KeepingRule = { empties: 'drop', afterDays: 60 }
const SHRINK: KeepingRule = { empties: 'shrink', afterDays: 60 }

let station: SmallStation
let folder: string
let files: StillFiles

beforeEach(async () => {
  station = await openSmallStation()
  folder = await mkdtemp(join(tmpdir(), 'hooftally-retention-'))
  files = await openStillFolder(folder)
})
afterEach(async () => {
  await station?.close()
  await rm(folder, { recursive: true, force: true })
})

interface Photo {
  readonly id: number
  readonly hash: Buffer
  readonly bytes: Buffer
}

/** Sends a photo through intake; `days` ago. */
async function send(bytes: Buffer, { camera = 0, days = 100, through = files } = {}) {
  const still = await takeStill(
    { desk: openIntakeDesk(station.ledger), files: through, onReceived: () => undefined },
    {
      camera: await findCamera(station.ledger, station.cameraIds[camera]!),
      bytes,
      fileName: null,
      fileTime: null,
      senderAt: null,
      arrivedAt: daysAgo(days),
    },
  )
  return { ...still, hash: createHash('sha256').update(bytes).digest(), bytes }
}

let minute = 0
async function newBytes(): Promise<Buffer> {
  minute += 1
  const at = new Date(daysAgo(101) + minute * 60_000).toISOString().slice(0, 19)
  return await photoTakenAt('galah-well-04.jpg', `${at}+00:00`)
}

/** A photo on which nothing was found. */
async function empty(options = {}): Promise<Photo> {
  const still = await send(await newBytes(), options)
  await record(station, still.id, {})
  return still
}

const run = (through = files) => runRetention({ ledger: station.ledger, files: through, now: NOW })
const setRule = (rule: KeepingRule) => saveKeepingRule(station.ledger, rule)
const dryRun = (rule: KeepingRule) => wouldFree({ ledger: station.ledger, files, now: NOW }, rule)

async function keptOf({ id }: Pick<Photo, 'id'>) {
  const row = await station.ledger.selectFrom('stills').select('kept').where('id', '=', id).executeTakeFirst()
  return row?.kept
}

async function lies({ hash }: Photo) {
  const [whole, small] = [await files.read(hash), await files.readSmall(hash)]
  return whole !== null ? 'whole' : small !== null ? 'small' : 'none'
}

/** What every photo is promised to be is there. */
async function expectPromisesKept() {
  const rows = await station.ledger.selectFrom('stills').select(['hash', 'kept']).execute()
  for (const { hash, kept } of rows) {
    if (kept === 'whole') expect(await files.read(hash)).not.toBeNull()
    if (kept === 'small') expect(await files.readSmall(hash)).not.toBeNull()
  }
}

test('a new station keeps everything', async () => {
  const photo = await empty()
  expect(await run()).toEqual({ photos: 0, bytes: 0, whyNot: null })
  expect([await keptOf(photo), await lies(photo)]).toEqual(['whole', 'whole'])
})

test('dropped, the bytes are gone and what is written down of it stays', async () => {
  await setRule(DROP)
  const photo = await empty()
  expect(await run()).toEqual({ photos: 1, bytes: photo.bytes.length, whyNot: null })
  expect([await keptOf(photo), await lies(photo)]).toEqual(['none', 'none'])
  const row = await station.ledger.selectFrom('stills').selectAll().executeTakeFirstOrThrow()
  expect(row).toMatchObject({ state: 'done', bytes: photo.bytes.length })
})

test('made smaller, the small picture stays and what is freed is the difference', async () => {
  await setRule(SHRINK)
  const photo = await empty()
  const { bytes } = await run()
  expect([await keptOf(photo), await lies(photo)]).toEqual(['small', 'small'])
  const small = (await files.readSmall(photo.hash))!
  expect(bytes).toBe(photo.bytes.length - small.length)
  const camera = await findCamera(station.ledger, station.cameraIds[0])
  expect(camera.still_bytes).toBe(small.length)
})

test('one that would not become smaller stays as it is', async () => {
  await setRule(SHRINK)
  const dot = await sharp({ create: { width: 1, height: 1, channels: 3, background: '#964' } })
    .webp()
    .toBuffer()
  const still = await send(dot)
  await record(station, still.id, {})
  expect((await run()).photos).toBe(0)
  expect([await keptOf(still), await lies(still)]).toEqual(['whole', 'whole'])
})

test('made smaller first and dropped later, nothing is left and nothing is counted twice', async () => {
  await setRule(SHRINK)
  const photo = await empty()
  const first = await run()
  await setRule(DROP)
  const second = await run()
  expect(first.bytes + second.bytes).toBe(photo.bytes.length)
  expect([await keptOf(photo), await lies(photo)]).toEqual(['none', 'none'])
  expect((await findCamera(station.ledger, station.cameraIds[0])).still_bytes).toBe(0)
})

test('photos with animals, those that wait and young ones stay', async () => {
  await setRule(DROP)
  const cattle = await send(await newBytes())
  await record(station, cattle.id, { cattle: 2 })
  const camel = await send(await newBytes())
  await record(station, camel.id, { camel: 1 })
  const waiting = await send(await newBytes())
  const young = await empty({ days: 59 })
  expect((await run()).photos).toBe(0)
  for (const photo of [cattle, camel, waiting, young]) expect(await lies(photo)).toBe('whole')
})

test('a dropped photo sent again is known, and is not stored again', async () => {
  await setRule(DROP)
  const photo = await empty()
  await run()
  expect(await send(photo.bytes)).toMatchObject({ id: photo.id, known: true })
  expect(await lies(photo)).toBe('none')
})

describe('the same bytes from two cameras', () => {
  test('stay while one of the two photos needs them', async () => {
    await setRule(DROP)
    const one = await empty()
    const two = await send(one.bytes, { camera: 1 })
    await record(station, two.id, { camel: 1 })
    expect(await dryRun(DROP)).toEqual({ photos: 0, bytes: 0 })
    expect((await run()).photos).toBe(0)
    expect([await keptOf(one), await keptOf(two), await lies(one)]).toEqual(['whole', 'whole', 'whole'])
  })
  test('go together, and are counted once', async () => {
    await setRule(DROP)
    const one = await empty()
    const two = await send(one.bytes, { camera: 1 })
    await record(station, two.id, {})
    expect(await dryRun(DROP)).toEqual({ photos: 2, bytes: one.bytes.length })
    expect(await run()).toMatchObject({ photos: 2, bytes: one.bytes.length })
    expect([await keptOf(one), await keptOf(two), await lies(one)]).toEqual(['none', 'none', 'none'])
  })
  test('are kept again for the second camera, after the first one’s went', async () => {
    await setRule(DROP)
    const one = await empty()
    await run()
    const two = await send(one.bytes, { camera: 1 })
    expect(two.known).toBe(false)
    expect([await keptOf(two), await lies(two)]).toEqual(['whole', 'whole'])
    await record(station, two.id, { camel: 1 })
    await run()
    expect(await lies(two)).toBe('whole')
  })
  test('that come at the very moment when they are removed are there when the sender is told', async () => {
    await setRule(DROP)
    const one = await empty()
    let sending: ReturnType<typeof send> | null = null
    // The second camera's photo finds the bytes still there, is written down, and only then are they removed.
    const slow: StillFiles = {
      ...files,
      async drop(hash) {
        sending = send(one.bytes, { camera: 1 })
        for (;;) {
          const { rows } = await sql<{ waits: boolean }>`select exists (select from pg_locks
            join pg_database on pg_database.oid = pg_locks.database
            where locktype = 'advisory' and not granted and datname = current_database()) as waits`.execute(
            station.ledger,
          )
          if (rows[0]?.waits) break
        }
        await files.drop(hash)
      },
    }
    await run(slow)
    const two = await sending!
    expect([await keptOf(two), await lies(two)]).toEqual(['whole', 'whole'])
  })
})

describe('ended at any step', () => {
  /** Files of a process that ends at its nth step that changes anything. */
  function endingAt(step: number): StillFiles {
    let steps = 0
    const ends = <Args extends unknown[]>(act: (...args: Args) => Promise<void>) => {
      return async (...args: Args) => {
        steps += 1
        if (steps === step) throw new Error('ended here')
        await act(...args)
      }
    }
    return {
      ...files,
      keepSmall: ends(files.keepSmall),
      drop: ends(files.drop),
      dropWhole: ends(files.dropWhole),
    }
  }
  test.each([DROP, SHRINK])(
    'no photo is promised that is not there, and the next run goes on: %o',
    async (rule) => {
      await setRule(rule)
      const left = rule === DROP ? 'none' : 'small'
      // Of two photos: their removals, and before them their small pictures.
      for (let step = 1; step <= (rule === DROP ? 2 : 4); step += 1) {
        const photos = [await empty(), await empty()]
        await expect(run(endingAt(step))).rejects.toThrow('ended here')
        await expectPromisesKept()
        await run()
        for (const photo of photos) expect([await keptOf(photo), await lies(photo)]).toEqual([left, left])
      }
      expect(await station.ledger.selectFrom('removals').selectAll().execute()).toEqual([])
    },
  )
  test('what was let go and not removed yet is kept when another camera brings it', async () => {
    await setRule(DROP)
    const one = await empty()
    await expect(run(endingAt(1))).rejects.toThrow('ended here')
    expect([await keptOf(one), await lies(one)]).toEqual(['none', 'whole'])
    const two = await send(one.bytes, { camera: 1 })
    await run()
    expect([await keptOf(two), await lies(two)]).toEqual(['whole', 'whole'])
  })
})

test('asked to stop, it stops after the batch in hand and has promised nothing', async () => {
  await setRule(DROP)
  const photo = await empty()
  await runRetention({ ledger: station.ledger, files, now: NOW, shouldStop: () => true })
  expect(await keptOf(photo)).toBe('whole')
  expect((await readKeeping(station.ledger)).last).toBeNull()
})

test('nothing goes while photos are counted again under new marks', async () => {
  await setRule(DROP)
  const photo = await empty()
  await sql`insert into recount (generation, state, total, done) values (1, 'running', 1, 0)`.execute(
    station.ledger,
  )
  expect((await run()).whyNot).toMatch(/counted again/)
  expect(await lies(photo)).toBe('whole')
  await sql`update recount set state = 'done'`.execute(station.ledger)
  expect(await run()).toMatchObject({ photos: 1, whyNot: null })
})

describe('a dry run', () => {
  test('says what a run would free and changes nothing', async () => {
    const photos = [await empty(), await empty()]
    const bytes = photos[0]!.bytes.length + photos[1]!.bytes.length
    expect(await dryRun(DROP)).toEqual({ photos: 2, bytes })
    expect(await dryRun({ empties: 'keep', afterDays: 1 })).toEqual({ photos: 0, bytes: 0 })
    for (const photo of photos) expect([await keptOf(photo), await lies(photo)]).toEqual(['whole', 'whole'])
    await setRule(DROP)
    expect(await run()).toMatchObject({ photos: 2, bytes })
  })
  test('of making smaller works out what small pictures keep', async () => {
    await empty()
    await empty()
    const said = await dryRun(SHRINK)
    await setRule(SHRINK)
    // Both were tried, so that nothing is guessed; rounded to a byte.
    expect(Math.abs((await run()).bytes - said.bytes)).toBeLessThanOrEqual(1)
  })
})

describe('once a day', () => {
  test('it runs by itself, writes down what it freed, and not again before the next day', async () => {
    await setRule(DROP)
    let now = NOW
    const log: string[] = []
    const daily = startDailyRetention({
      ledger: station.ledger,
      files,
      now: () => now,
      log: (line) => log.push(line),
    })
    try {
      const first = await empty()
      await daily.wake()
      expect(await lies(first)).toBe('none')
      expect((await readKeeping(station.ledger)).last).toEqual({
        at: NOW,
        photos: 1,
        bytes: first.bytes.length,
      })
      expect(log.join()).toContain('1 empty photos went')
      const second = await empty()
      now = (NOW + DAY_MS - 1) as Instant
      await daily.wake()
      expect(await lies(second)).toBe('whole')
      now = (NOW + DAY_MS) as Instant
      await daily.wake()
      expect(await lies(second)).toBe('none')
    } finally {
      await daily.stop()
    }
  })
  test('a fault is logged and ends nothing', async () => {
    await setRule(DROP)
    await empty()
    const log: string[] = []
    const away = { ...files, drop: () => Promise.reject(new Error('the store is away')) }
    const daily = startDailyRetention({
      ledger: station.ledger,
      files: away,
      now: () => NOW,
      log: (line) => log.push(line),
    })
    await daily.wake()
    await daily.stop()
    expect(log.join()).toContain('the store is away')
  })
})

test('the ledger’s rule is the one of the trade, for every kind of photo', async () => {
  const picture = await newBytes()
  const anyPhoto = { ...files, read: async () => picture }
  const { ledger, pointId, cameraIds } = station
  const kinds = (['received', 'done', 'unreadable'] as const).flatMap((state) =>
    [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15].flatMap((marks) =>
      [59, 61].flatMap((days) =>
        KEPT.map((kept) => ({
          state,
          flagged: (marks & 1) > 0,
          unsure: (marks & 2) > 0,
          checked: (marks & 4) > 0,
          marked: false,
          drawn: false,
          animals: (marks & 8) > 0,
          receivedAt: daysAgo(days),
          kept,
        })),
      ),
    ),
  )
  for (const rule of [DROP, SHRINK, { empties: 'keep', afterDays: 60 } as const]) {
    await ledger.deleteFrom('stills').execute()
    await setRule(rule)
    const rows = await ledger
      .insertInto('stills')
      .values(
        kinds.map(({ state, flagged, unsure, checked, receivedAt, kept }) => ({
          camera_id: cameraIds[0],
          point_id: pointId,
          hash: randomBytes(32),
          bytes: picture.length,
          format: 'jpeg',
          width: 960,
          height: 540,
          file_name: null,
          taken_at: new Date(receivedAt),
          taken_from: 'exif' as const,
          clock_doubt: null,
          night: sql<never>`'2026-09-20'`,
          received_at: new Date(receivedAt),
          state,
          reason: null,
          model_id: null,
          flagged,
          unsure,
          checked,
          kept,
        })),
      )
      .returning('id')
      .execute()
    const seen = rows.filter((_row, i) => kinds[i]!.animals)
    await ledger
      .insertInto('sightings')
      .values(
        seen.map(({ id }) => ({
          still_id: id,
          species: 'cattle' as const,
          point_id: pointId,
          taken_at: new Date(NOW),
          head: 1,
          score: 0.9,
        })),
      )
      .execute()
    const would = await wouldFree({ ledger, files: anyPhoto, now: NOW }, rule)
    const did = await run(anyPhoto)
    const after = await ledger.selectFrom('stills').select(['id', 'kept']).orderBy('id').execute()
    const expected = kinds.map((photo) => leftOf(photo, rule, NOW))
    expect(after.map(({ kept }) => kept)).toEqual(expected)
    const changed = kinds.filter(({ kept }, i) => kept !== expected[i]).length
    expect([would.photos, did.photos]).toEqual([changed, changed])
    expect(changed > 0).toBe(rule.empties !== 'keep')
  }
}, 60_000)
