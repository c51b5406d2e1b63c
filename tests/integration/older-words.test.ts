/** Words said before they could be fuller: the migration keeps each as it was, and the log as closed as it was. */
import { Kysely, PostgresDialect, sql } from 'kysely'
import pg from 'pg'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { migrationNames, runMigrations } from '../../services/store/open.ts'
import { type FreshDatabase, freshDatabase } from './fresh-database.ts'

const FULLER = '0008-fuller-words'
let database: FreshDatabase
let db: Kysely<unknown>

beforeAll(async () => {
  database = await freshDatabase()
  db = new Kysely({ dialect: new PostgresDialect({ pool: new pg.Pool({ connectionString: database.url }) }) })
  await runMigrations(
    db,
    migrationNames.filter((name) => name < FULLER),
  )
  await sql`insert into points (name, kind, lat, lon, has_yard, run_order, low_mark_percent, dry_mark_percent)
    values ('Wren Bore', 'bore', -28, 135, false, 1, 40, 5)`.execute(db)
  await sql`insert into cameras (name, point_id, clock_error_seconds, expected_silence_hours, sends_heartbeats)
    values ('Wren camera', 1, 0, 26, true)`.execute(db)
  await sql`insert into stills (camera_id, point_id, hash, bytes, taken_at, taken_from, night, received_at, state, checked)
    values (1, 1, '\\x01', 1, now(), 'exif', '2026-11-24', now(), 'done', true)`.execute(db)
  await say('corrected', '{"camel": 3}')
  await runMigrations(db, [FULLER])
})
afterAll(async () => {
  await db.destroy()
  await database.drop()
})

const say = (verdict: string, counts: string | null) =>
  sql`insert into checks (still_id, at, who, verdict, counts, seen)
    values (1, now(), 'Ash', ${verdict}, ${counts}::jsonb, '{"models": null, "thresholds": {}, "tally": {}}')`.execute(
    db,
  )

test('what was said stands as it was said, with nothing marked, drawn or named beside it', async () => {
  const { rows } = await sql`select who, verdict, counts, marks, others, boxes, batch_id from checks`.execute(
    db,
  )
  const nothing = { marks: null, others: null, boxes: null, batch_id: null }
  expect(rows).toEqual([{ who: 'Ash', verdict: 'corrected', counts: { camel: 3 }, ...nothing }])
})
test('a photo of before has nobody in it and no measure of its sharpness', async () => {
  const { rows } = await sql`select checked, person, sharpness from stills`.execute(db)
  expect(rows).toEqual([{ checked: true, person: false, sharpness: null }])
})
test('the log still takes nothing back, and no word that is none', async () => {
  await expect(sql`update checks set who = 'Bee'`.execute(db)).rejects.toThrow('append-only')
  await expect(say('perhaps', null)).rejects.toThrow('checks_verdict_check')
  await say('marked', null)
})
