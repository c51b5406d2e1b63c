/** A backup is the whole station as of one instant, and is put back whole or not at all. */
import { randomInt } from 'node:crypto'
import { open, readdir, readFile, stat, truncate, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import pg from 'pg'
import { pack } from 'tar-stream'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readBackup } from '../../services/backup/read.ts'
import { checkBackup, openBackup } from '../../services/backup/restore.ts'
import { writeBackup } from '../../services/backup/write.ts'
import { Refusal } from '../../services/refusal.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { openSnapshot } from '../../services/store/dump.ts'
import { migrationsDone } from '../../services/store/known-migrations.ts'
import { makeTables } from '../../services/store/load.ts'
import { migrationNames } from '../../services/store/open.ts'
import { placeOf } from '../../services/store/still-files.ts'
import type { Instant } from '../../services/words.ts'
import {
  type BackupStation,
  openBackupStation,
  type RestoredStation,
  restoreElsewhere,
  restoreInto,
} from './backup-station.ts'
import { type FreshDatabase, freshDatabase } from './fresh-database.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { noSmallDisk, openSmallDisk } from './small-disk.ts'

const never = new AbortController().signal

let station: BackupStation
beforeAll(async () => {
  station = await openBackupStation()
})
afterAll(() => station.close())

async function hashesIn({ ledger }: Pick<RestoredStation, 'ledger'>): Promise<string[]> {
  const rows = await ledger.selectFrom('stills').select('hash').execute()
  return rows.map((row) => row.hash.toString('hex'))
}

describe('taken while photos come in', () => {
  const acknowledged: string[] = []
  let before: string[] = []
  let restored: RestoredStation

  beforeAll(async () => {
    let sending = true
    const senders = [0, 1].map(async (sender) => {
      for (let i = sender; sending && i < 80; i += 2) acknowledged.push(await station.send(i))
    })
    while (acknowledged.length < 30) await wait(10)
    const first = await station.ledger
      .selectFrom('stills')
      .select('id')
      .orderBy('id')
      .executeTakeFirstOrThrow()
    await recordChecks(station.ledger, {
      who: 'Ash',
      at: Date.UTC(2026, 9, 2) as Instant,
      words: [{ stillId: first.id, verdict: 'corrected', counts: { camel: 4 } }],
    })
    before = [...acknowledged]
    const { path } = await station.backUp('while-photos-come.backup')
    sending = false
    await Promise.all(senders)
    restored = await restoreElsewhere(path)
  })
  afterAll(() => restored.close())

  it('every photo that was acknowledged before it began is in it, with its bytes', async () => {
    expect(await hashesIn(restored)).toEqual(expect.arrayContaining(before))
    for (const hash of await hashesIn(restored)) {
      expect(await restored.files.read(Buffer.from(hash, 'hex')), hash).not.toBeNull()
    }
  })

  it('what came in later is not: it is one instant', async () => {
    const there = await hashesIn(restored)
    expect(new Set(there).size).toBe(there.length)
    const camera = await restored.ledger
      .selectFrom('cameras')
      .select('stills')
      .where('name', '=', 'first')
      .executeTakeFirstOrThrow()
    // The camera's counter is written in the same transaction as the photo's row.
    expect(camera.stills).toBe(there.length)
  })

  it('the kept counts are those of a count from nothing', async () => {
    const kept = await keptAggregates(restored.ledger)
    expect(kept.visits.length).toBeGreaterThan(0)
    expect(kept).toEqual(await recountFromNothing(restored.ledger))
  })

  it('what a person said is there, and still cannot be changed', async () => {
    const checks = await restored.ledger.selectFrom('checks').selectAll().execute()
    expect(checks).toMatchObject([{ who: 'Ash', verdict: 'corrected', counts: { camel: 4 } }])
    await expect(restored.ledger.deleteFrom('checks').execute()).rejects.toThrow(/append-only/)
  })

  it('numbers go on after the last one given, and none is given twice', async () => {
    const given = await restored.ledger
      .selectFrom('stills')
      .select((e) => e.fn.max('id').as('last'))
      .executeTakeFirstOrThrow()
    const next = await restored.ledger
      .insertInto('models')
      .values({ name: 'another', version: '1', detector_sha256: 'a'.repeat(64), namer_sha256: null })
      .returning('id')
      .executeTakeFirstOrThrow()
    const models = await station.ledger.selectFrom('models').select('id').execute()
    expect(models.map(({ id }) => id)).not.toContain(next.id)
    const { rows } = await restored.ledger.executeQuery<{ next: number }>(
      restored.ledger
        .selectNoFrom((e) => e.fn<number>('nextval', [e.val('stills_id_seq')]).as('next'))
        .compile(),
    )
    expect(rows[0]!.next).toBeGreaterThan(given.last)
  })

  it('the database has been through what this program knows', async () => {
    expect(await migrationsDone(restored.ledger)).toEqual(migrationNames)
  })
})

it('every row and every value comes back as it was', async () => {
  await station.ledger
    .insertInto('point_states')
    .values([
      {
        point_id: station.pointId,
        kind: 'rain',
        at: new Date('2026-10-01T10:00:00.123Z'),
        source: 'tap',
        level_percent: 0.1 + 0.2,
        // What COPY text has to write in another way, and what it has not.
        note: 'a\ttab, a\nline, a \\ stroke, \\N, "quotes", ünï 🐄',
      },
      {
        point_id: station.pointId,
        kind: 'rain',
        at: new Date('1970-01-01T00:00:00Z'),
        source: 'reading',
        level_percent: null,
        note: '',
      },
    ])
    .execute()
  const { path } = await station.backUp('values.backup')
  const restored = await restoreElsewhere(path)
  try {
    for (const table of [
      'station',
      'points',
      'point_states',
      'cameras',
      'stills',
      'detections',
      'embeddings',
      'visits',
    ] as const) {
      const there = await station.ledger.selectFrom(table).selectAll().execute()
      const back = await restored.ledger.selectFrom(table).selectAll().execute()
      const inOrder = (rows: readonly object[]) => rows.map((row) => JSON.stringify(row)).toSorted()
      expect(there.length, table).toBeGreaterThan(0)
      expect(inOrder(back), table).toEqual(inOrder(there))
    }
  } finally {
    await restored.close()
  }
})

it('a table of many parts comes back whole', async () => {
  const client = new pg.Client({ connectionString: station.url })
  await client.connect()
  await client.query(
    `insert into heartbeats (camera_id, at, received_at)
     select $1, timestamptz '2020-01-01Z' + n * interval '1 second', now() from generate_series(1, 120000) n`,
    [station.cameraIds[0]],
  )
  await client.end()
  const { path } = await station.backUp('many-rows.backup')
  let parts = 0
  for await (const part of readBackup(path, never)) {
    if (part.kind === 'rows' && part.table === 'heartbeats') parts += 1
  }
  expect(parts).toBeGreaterThan(1)
  const restored = await restoreElsewhere(path)
  const { count } = await restored.ledger
    .selectFrom('heartbeats')
    .select((e) => e.fn.countAll<number>().as('count'))
    .executeTakeFirstOrThrow()
  await restored.close()
  await station.ledger.deleteFrom('heartbeats').execute()
  expect(count).toBe(120_000)
})

it('of photos that were let go it has what was kept, and it says which are missing without a word', async () => {
  const hashes = [await station.send(1001), await station.send(1002), await station.send(1005)]
  const [shrunk, dropped, lost] = hashes.map((hash) => Buffer.from(hash, 'hex')) as [Buffer, Buffer, Buffer]
  const letGo = (hash: Buffer, kept: 'small' | 'none') =>
    station.ledger.updateTable('stills').set({ kept }).where('hash', '=', hash).execute()
  const small = Buffer.from('a small picture')
  await station.files.keepSmall(shrunk, small)
  await station.files.dropWhole(shrunk)
  await letGo(shrunk, 'small')
  await station.files.drop(dropped)
  await letGo(dropped, 'none')
  const { path, end } = await station.backUp('let-go.backup')
  expect(end).toMatchObject({ previews: 1, gone: 0 })
  await station.files.drop(lost)
  expect((await station.backUp('lost.backup')).end).toMatchObject({ previews: 1, gone: 1 })
  const restored = await restoreElsewhere(path)
  try {
    expect(await restored.files.read(shrunk)).toBeNull()
    expect(await restored.files.readSmall(shrunk)).toEqual(small)
    expect(await restored.files.read(lost)).not.toBeNull()
  } finally {
    await restored.close()
  }
})

it('a photo that the disk has changed is not taken for the photo', async () => {
  const hash = await station.send(1003)
  const path = join(station.folder, 'stills', placeOf('whole', Buffer.from(hash, 'hex')))
  const bytes = await readFile(path)
  await writeFile(path, Buffer.concat([bytes.subarray(0, -1), Buffer.from([bytes.at(-1)! ^ 1])]))
  const earlier = (await station.backUp('before-mending.backup')).end
  await writeFile(path, bytes)
  const later = (await station.backUp('after-mending.backup')).end
  expect(earlier.gone).toBe(later.gone + 1)
  expect(later.photos).toBe(earlier.photos + 1)
})

describe('what is not put back', () => {
  let good: string
  let target: FreshDatabase
  beforeAll(async () => {
    for (let i = 0; i < 4; i += 1) await station.send(2000 + i)
    good = (await station.backUp('good.backup')).path
    target = await freshDatabase()
  })
  afterAll(() => target.drop())

  async function tablesInTarget(): Promise<string[]> {
    const client = new pg.Client({ connectionString: target.url })
    await client.connect()
    const { rows } = await client.query<{ name: string }>(
      `select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r'`,
    )
    await client.end()
    return rows.map(({ name }) => name)
  }

  async function expectRefused(path: string, words: RegExp): Promise<void> {
    const restoring = restoreInto(path, { url: target.url, files: station.files })
    await expect(restoring).rejects.toBeInstanceOf(Refusal)
    await expect(restoring).rejects.toThrow(words)
    expect(await tablesInTarget()).toEqual([])
  }

  /** The good backup under another name, to be spoilt. */
  async function copyOf(name: string): Promise<string> {
    const path = join(station.folder, name)
    await writeFile(path, await readFile(good))
    return path
  }

  it('a file that was cut short, wherever', async () => {
    const { size } = await stat(good)
    const path = await copyOf('cut')
    for (const left of [size - 1_025, Math.floor(size / 2), Math.floor(size / 5)]) {
      await writeFile(path, await readFile(good))
      await truncate(path, left)
      await expectRefused(path, /damaged/)
    }
  })

  it('a file cut short before it says what it is', async () => {
    const path = await copyOf('cut-in-manifest')
    await truncate(path, 600)
    await expectRefused(path, /is no backup/)
  })

  it('a file of which one byte was changed is refused, or says the very same', async () => {
    const bytes = await readFile(good)
    const whole = await checkBackup(await openBackup(good, never))
    const path = join(station.folder, 'flipped')
    let refused = 0
    // Enough places to meet headers, rows, photos and the gaps between them.
    for (let tries = 0; tries < 60; tries += 1) {
      const at = randomInt(bytes.length)
      const changed = Buffer.from(bytes)
      changed[at] = changed[at]! ^ (1 << randomInt(8))
      await writeFile(path, changed)
      try {
        const end = await checkBackup(await openBackup(path, never))
        expect(end, `byte ${at}`).toEqual(whole)
      } catch (fault) {
        expect(fault, `byte ${at}`).toBeInstanceOf(Refusal)
        refused += 1
      }
    }
    expect(refused).toBeGreaterThan(15)
  })

  it('a file with a changed row', async () => {
    const path = await copyOf('changed-row')
    const at = (await readFile(path)).indexOf('First Bore')
    const file = await open(path, 'r+')
    await file.write(Buffer.from('Other Bore'), 0, 10, at)
    await file.close()
    await expectRefused(path, /damaged: tables\/points/)
  })

  it('a file from which a whole part was taken', async () => {
    const bytes = await readFile(good)
    // A part is a header of 512 bytes and its content, filled up to 512 (POSIX.1-1988, ustar interchange format).
    const at = bytes.indexOf('photos/')
    const size = Number.parseInt(bytes.toString('latin1', at + 124, at + 136), 8)
    const path = join(station.folder, 'part-gone')
    const next = at + 512 + Math.ceil(size / 512) * 512
    await writeFile(path, Buffer.concat([bytes.subarray(0, at), bytes.subarray(next)]))
    await expectRefused(path, /damaged: parts of it are missing/)
  })

  it.each([
    ['a text', async () => Buffer.from('to do: water run\n'.repeat(200))],
    ['a photo', () => readFile(join('services', 'demo', 'stills', 'kite-bore-00.jpg'))],
    ['nothing', async () => Buffer.alloc(0)],
    ['somebody else’s tar file', () => foreignTar()],
  ])('%s', async (_, bytes) => {
    const path = join(station.folder, 'no-backup')
    await writeFile(path, await bytes())
    await expectRefused(path, /is no backup made by Hooftally/)
  })

  it('a file that is not there, and a folder', async () => {
    await expectRefused(join(station.folder, 'nowhere'), /could not be read/)
    await expectRefused(station.folder, /could not be read/)
  })

  it('a backup of a newer database', async () => {
    const { path } = await station.backUp('newer.backup', (snapshot) => ({
      ...snapshot,
      migrations: [...snapshot.migrations, '9999-from-the-future'],
    }))
    await expectRefused(path, /newer Hooftally.*9999-from-the-future/)
  })

  it('anything into a database that holds a station, which stays as it is', async () => {
    const before = await keptAggregates(station.ledger)
    const restoring = restoreInto(good, { url: station.url, files: station.files })
    await expect(restoring).rejects.toMatchObject({ kind: 'conflict', field: 'database' })
    expect(await keptAggregates(station.ledger)).toEqual(before)
  })

  it('anything into a database with tables of others', async () => {
    const others = await freshDatabase()
    const client = new pg.Client({ connectionString: others.url })
    await client.connect()
    await client.query('create table ledger_of_somebody (id integer)')
    await expect(restoreInto(good, { url: others.url, files: station.files })).rejects.toMatchObject({
      kind: 'conflict',
    })
    const { rows } = await client.query(`select to_regclass('ledger_of_somebody') is not null as there`)
    expect(rows).toEqual([{ there: true }])
    await client.end()
    await others.drop()
  })
})

it('a backup of an older Hooftally is brought forward', async () => {
  const older = await freshDatabase()
  const client = new pg.Client({ connectionString: older.url })
  await client.connect()
  await makeTables(client, ['0001-ledger'])
  await client.query(`insert into station (name, zone, homestead_lat, homestead_lon, visit_gap_minutes, cattle_away_hours)
    values ('Thornbill Plains', 'Australia/Adelaide', -28, 135, 30, 72)`)
  await client.query(`insert into points (name, kind, lat, lon, has_yard, run_order, low_mark_percent, dry_mark_percent)
    values ('Wren Bore', 'bore', -28, 134, true, 1, 40, 5)`)
  await client.end()
  const snapshot = await openSnapshot(older.url)
  const { path } = await station.backUp('older.backup', () => snapshot)
  await snapshot.close()
  const restored = await restoreElsewhere(path)
  try {
    expect(await migrationsDone(restored.ledger)).toEqual(migrationNames)
    expect(await restored.ledger.selectFrom('points').select('name').execute()).toEqual([
      { name: 'Wren Bore' },
    ])
  } finally {
    await restored.close()
    await older.drop()
  }
})

it('a backup that is stopped leaves no file', async () => {
  const stopping = new AbortController()
  const path = join(station.folder, 'stopped.backup')
  const snapshot = await openSnapshot(station.url)
  const writing = writeBackup({
    path,
    snapshot,
    files: station.files,
    signal: stopping.signal,
    onPhoto: () => stopping.abort(),
  })
  await expect(writing).rejects.toThrow()
  await snapshot.close()
  expect((await readdir(station.folder)).filter((name) => name.includes('stopped'))).toEqual([])
})

it.skipIf(noSmallDisk !== null)(
  `onto a disk that gets full it fails, and leaves the disk as it was${noSmallDisk === null ? '' : ` (skipped: ${noSmallDisk})`}`,
  async () => {
    const disk = openSmallDisk(1)
    await station.send(500)
    const snapshot = await openSnapshot(station.url)
    // More than the disk has, whatever the station has.
    const files = { ...station.files, read: async () => Buffer.alloc(2 ** 20, 7) }
    try {
      const path = join(disk.folder, 'full.backup')
      await expect(writeBackup({ path, snapshot, files, signal: never })).rejects.toMatchObject({
        code: 'ENOSPC',
      })
      expect(await readdir(disk.folder)).toEqual([])
    } finally {
      await snapshot.close()
      disk.remove()
    }
  },
)

function foreignTar(): Promise<Buffer> {
  const tar = pack()
  tar.entry({ name: 'letter.txt' }, 'dear neighbour')
  tar.finalize()
  return (async () => {
    const chunks: Buffer[] = []
    for await (const chunk of tar) chunks.push(chunk as Buffer)
    return Buffer.concat(chunks)
  })()
}
