/** Traps that were told before there was a log: the migration gives each of their states a word there, and changes nothing else. */
import { Kysely, PostgresDialect, sql } from 'kysely'
import pg from 'pg'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { migrationNames, runMigrations } from '../../services/store/open.ts'
import { type FreshDatabase, freshDatabase } from './fresh-database.ts'

const LOGS = '0015-outcomes'
let database: FreshDatabase
let db: Kysely<unknown>

beforeAll(async () => {
  database = await freshDatabase()
  db = new Kysely({ dialect: new PostgresDialect({ pool: new pg.Pool({ connectionString: database.url }) }) })
  await runMigrations(
    db,
    migrationNames.filter((name) => name < LOGS),
  )
  await sql`insert into points (name, kind, lat, lon, has_yard, run_order, low_mark_percent, dry_mark_percent)
    values ('Wren Bore', 'bore', -28, 135, true, 1, 40, 5)`.execute(db)
  await sql`insert into point_states (point_id, kind, at, source, note) values
    (1, 'trap open', '2026-11-01T00:00:00Z', 'tap', 'gates tied back'),
    (1, 'water good', '2026-11-02T00:00:00Z', 'tap', null),
    (1, 'trap set', '2026-11-03T00:00:00Z', 'tap', null)`.execute(db)
  await runMigrations(db, [LOGS])
})
afterAll(async () => {
  await db.destroy()
  await database.drop()
})

test('each state of a trap has its word in the log, with its time and its note', async () => {
  const { rows } = await sql`select kind, at, note, who, held, withdraws from trap_log order by seq`.execute(
    db,
  )
  const unsaid = { who: 'station', held: null, withdraws: null }
  expect(rows).toEqual([
    { kind: 'trap open', at: new Date('2026-11-01T00:00:00Z'), note: 'gates tied back', ...unsaid },
    { kind: 'trap set', at: new Date('2026-11-03T00:00:00Z'), note: null, ...unsaid },
  ])
})

test('the states stand as they stood, those of a trap with their word', async () => {
  const { rows } = await sql`select s.kind, t.kind as word from point_states s
    left join trap_log t on t.id = s.trap_word order by s.at`.execute(db)
  expect(rows).toEqual([
    { kind: 'trap open', word: 'trap open' },
    { kind: 'water good', word: null },
    { kind: 'trap set', word: 'trap set' },
  ])
})
