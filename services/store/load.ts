/** Puts a station's rows back into a database that holds none: all of it in one transaction, or nothing. */
import type { Writable } from 'node:stream'
import { Kysely, PostgresDialect } from 'kysely'
import pg from 'pg'
import { from as copyFrom } from 'pg-copy-streams'
import { Refusal } from '../refusal.ts'
import { type DumpedTable, MIGRATION_TABLES, type NumberedColumn, quoted, tablesInOrder } from './dump.ts'
import { runMigrations } from './open.ts'

/** The lock that Kysely's migrator takes (its PostgresAdapter): a service that starts meanwhile waits for the end. */
const MIGRATOR_LOCK = '3853314791062309107'
/** What a person or a camera put in; the other tables hold what follows from it, or what a migration put there. */
const OWN_TABLES = ['station', 'points', 'cameras', 'stills', 'checks']

export interface Loading {
  /** The tables as they are now in the database, with their columns. */
  readonly tables: readonly DumpedTable[]
  /** Takes a table's rows as COPY text. */
  rows(table: DumpedTable): Writable
  /** Sets the numbers, and makes all of it last. */
  commit(sequences: readonly NumberedColumn[]): Promise<void>
  /** Leaves the database as it was. */
  rollback(): Promise<void>
}

/**
 * Makes the tables as the migrations `names` leave them, empty.
 * `ownDatabase`: no one else's tables can lie there, so those of a station that was never set up may be made again.
 * @throws Refusal when the database holds a station, or tables that are none of ours to replace.
 */
export async function openLoading(
  url: string,
  { names, ownDatabase }: { readonly names: readonly string[]; readonly ownDatabase: boolean },
): Promise<Loading> {
  const client = new pg.Client({ connectionString: url, application_name: 'hooftally restore' })
  client.on('error', () => undefined)
  await client.connect()
  // A connection that ends takes its transaction with it, also in the middle of a COPY.
  const rollback = () => client.end().catch(() => undefined)
  try {
    await client.query('begin')
    await client.query('select pg_advisory_xact_lock($1)', [MIGRATOR_LOCK])
    await makeRoom(client, ownDatabase)
    await makeTables(client, names)
    const tables = await tablesInOrder(client)
    // What migrations put in is in the backup too, as the owner left it.
    await client.query(`truncate ${tables.map(({ name }) => quoted(name)).join(', ')}`)
    return {
      tables,
      rows: ({ name, columns }) =>
        client.query(copyFrom(`copy ${quoted(name)} (${columns.map(quoted).join(', ')}) from stdin`)),
      async commit(sequences) {
        for (const { table, column, last } of sequences) await setNumber(client, { table, column, last })
        await client.query('commit')
        // Without it the first questions would be planned for empty tables.
        await client.query('analyze')
        await client.end()
      },
      rollback,
    }
  } catch (fault) {
    await rollback()
    throw fault
  }
}

/** Makes the tables, and writes down the migrations they went through as the migrator would. */
export async function makeTables(client: pg.Client, names: readonly string[]): Promise<void> {
  await client.query(`create table if not exists kysely_migration
    (name varchar(255) not null primary key, timestamp varchar(255) not null)`)
  await client.query(`create table if not exists kysely_migration_lock
    (id varchar(255) not null primary key, is_locked integer not null default 0)`)
  await client.query(`insert into kysely_migration_lock values ('migration_lock', 0) on conflict do nothing`)
  await runMigrations(kyselyOn(client), names)
  for (const name of names) {
    await client.query('insert into kysely_migration values ($1, $2)', [name, new Date().toISOString()])
  }
}

/** Kysely on this one connection, which stays the caller's. */
function kyselyOn(client: pg.Client): Kysely<unknown> {
  const lent = { query: client.query.bind(client), release: () => undefined }
  return new Kysely({
    dialect: new PostgresDialect({ pool: { connect: async () => lent, end: async () => undefined } }),
  })
}

async function makeRoom(client: pg.Client, ownDatabase: boolean): Promise<void> {
  const tables = await tablesInOrder(client)
  if (tables.length === 0) {
    for (const table of MIGRATION_TABLES) await client.query(`drop table if exists ${table}`)
    return
  }
  for (const table of OWN_TABLES.filter((name) => tables.some((one) => one.name === name))) {
    const { rows } = await client.query(`select 1 from ${quoted(table)} limit 1`)
    if (rows.length > 0) throw notEmpty('holds a station already')
  }
  if (!ownDatabase) throw notEmpty('has tables in it already')
  await client.query('drop schema public cascade')
  await client.query('create schema public')
}

async function setNumber(client: pg.Client, { table, column, last }: NumberedColumn): Promise<void> {
  if (last === null) return
  await client.query('select setval(pg_get_serial_sequence($1, $2), $3)', [quoted(table), column, last])
}

function notEmpty(what: string): Refusal {
  return new Refusal({
    kind: 'conflict',
    detail: `The database ${what}; a backup is only put back where nothing is. Nothing was changed.`,
    field: 'database',
    remedy: 'Give --data a new folder, or DATABASE_URL an empty database.',
  })
}
