/** After an upgrade the database has been through more than the older program knows: that one must not touch it. */
import pg from 'pg'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { Refusal } from '../../services/refusal.ts'
import { migrationsDone } from '../../services/store/known-migrations.ts'
import { makeTables } from '../../services/store/load.ts'
import { migrationNames, openLedger } from '../../services/store/open.ts'
import { type FreshDatabase, freshDatabase } from './fresh-database.ts'

let database: FreshDatabase
let client: pg.Client

beforeAll(async () => {
  database = await freshDatabase()
  client = new pg.Client({ connectionString: database.url })
  await client.connect()
})
afterAll(async () => {
  await client.end()
  await database.drop()
})

async function done(): Promise<readonly string[]> {
  const { rows } = await client.query<{ name: string }>('select name from kysely_migration order by name')
  return rows.map(({ name }) => name)
}

it('a database without tables is brought up to date, and opened again as it is', async () => {
  for (let starts = 0; starts < 2; starts += 1) {
    const ledger = await openLedger(database.url)
    expect(await migrationsDone(ledger)).toEqual(migrationNames)
    await ledger.destroy()
  }
})

it('an older database is migrated forward, with what is in it', async () => {
  const older = await freshDatabase()
  const asFirstReleased = new pg.Client({ connectionString: older.url })
  await asFirstReleased.connect()
  try {
    await makeTables(asFirstReleased, ['0001-ledger'])
    await asFirstReleased.query(`insert into points (name, kind, lat, lon, has_yard, run_order, low_mark_percent,
      dry_mark_percent) values ('Wren Bore', 'bore', -28, 134, true, 1, 40, 5)`)
    const ledger = await openLedger(older.url)
    expect(await migrationsDone(ledger)).toEqual(migrationNames)
    const points = await ledger.selectFrom('points').select(['name', 'has_yard']).execute()
    expect(points).toEqual([{ name: 'Wren Bore', has_yard: true }])
    await ledger.destroy()
  } finally {
    await asFirstReleased.end()
    await older.drop()
  }
})

it('a newer database is refused with a clear word, and left as it is', async () => {
  await (await openLedger(database.url)).destroy()
  await client.query(`insert into kysely_migration (name, timestamp) values ('9999-from-the-future', '2036')`)
  const before = await done()
  const opening = openLedger(database.url)
  await expect(opening).rejects.toBeInstanceOf(Refusal)
  await expect(opening).rejects.toMatchObject({ kind: 'conflict', field: 'database' })
  await expect(opening).rejects.toThrow(/newer than this Hooftally.*9999-from-the-future/)
  expect(await done()).toEqual(before)
})
