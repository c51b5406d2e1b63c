/** Everything the database holds, as of one instant, while others go on writing: what a backup is made from. */
import type { Readable } from 'node:stream'
import pg from 'pg'
import { to as copyTo } from 'pg-copy-streams'

export interface DumpedTable {
  readonly name: string
  readonly columns: readonly string[]
}

export interface NumberedColumn {
  readonly table: string
  readonly column: string
  /** The last number given out; null before the first. */
  readonly last: number | null
}

export interface DumpedPhoto {
  readonly hash: Buffer
  readonly kept: 'whole' | 'small' | 'none'
}

export interface Snapshot {
  readonly takenAt: Date
  readonly station: string | null
  readonly migrations: readonly string[]
  /** Each after those that its rows refer to. */
  readonly tables: readonly DumpedTable[]
  readonly sequences: readonly NumberedColumn[]
  /** A table's rows as COPY text. */
  rows(table: DumpedTable): Readable
  /** Every photo's content hash, once, in order, with what the ledger says is kept of it. */
  photos(): AsyncGenerator<DumpedPhoto>
  close(): Promise<void>
}

/** The migrator writes these itself. */
export const MIGRATION_TABLES = ['kysely_migration', 'kysely_migration_lock']
const PHOTOS_AT_ONCE = 1_000

/** What text is written as must not depend on the server's settings; and numbers come back as they were. */
const TEXT_SETTINGS = `set local datestyle = 'ISO, YMD'; set local timezone = 'UTC'; set local intervalstyle = 'iso_8601';
  set local bytea_output = 'hex'; set local extra_float_digits = 1; set local client_encoding = 'UTF8'`

/** One read-only transaction that sees the database as it is now until it is closed (PostgreSQL manual, section 13.2.2). */
export async function openSnapshot(url: string): Promise<Snapshot> {
  const client = new pg.Client({ connectionString: url, application_name: 'hooftally backup' })
  // A connection that is lost is told by the next question.
  client.on('error', () => undefined)
  await client.connect()
  try {
    await client.query('begin transaction isolation level repeatable read read only')
    await client.query(TEXT_SETTINGS)
    const { rows: now } = await client.query<{ at: Date }>('select now() as at')
    const tables = await tablesInOrder(client)
    return {
      takenAt: now[0]!.at,
      tables,
      migrations: await migrationsOf(client),
      station: tables.some(({ name }) => name === 'station') ? await stationName(client) : null,
      sequences: await sequencesOf(client),
      rows: ({ name, columns }) =>
        client.query(
          copyTo(`copy (select ${columns.map(quoted).join(', ')} from ${quoted(name)}) to stdout`),
        ),
      photos: () =>
        photosOf(client, {
          // Before migration 0004 nothing was ever let go.
          saysKept: tables.some(({ name, columns }) => name === 'stills' && columns.includes('kept')),
        }),
      close: () => client.end(),
    }
  } catch (fault) {
    await client.end().catch(() => undefined)
    throw fault
  }
}

export function quoted(identifier: string): string {
  return pg.escapeIdentifier(identifier)
}

/** Our tables with the columns that hold data of their own, in the order in which rows may be put back. */
export async function tablesInOrder(client: pg.Client): Promise<readonly DumpedTable[]> {
  const { rows: tables } = await client.query<{ name: string; columns: string[] }>(
    `select c.relname::text as name, array_agg(a.attname::text order by a.attnum) as columns
     from pg_class c
     join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = ''
     where c.relnamespace = current_schema()::regnamespace and c.relkind in ('r', 'p') and not c.relispartition
       and c.relname <> all ($1)
     group by c.oid order by c.relname`,
    [MIGRATION_TABLES],
  )
  const { rows: references } = await client.query<{ child: string; parent: string }>(
    `select child.relname::text as child, parent.relname::text as parent
     from pg_constraint f join pg_class child on child.oid = f.conrelid join pg_class parent on parent.oid = f.confrelid
     where f.contype = 'f' and f.conparentid = 0 and f.conrelid <> f.confrelid
       and f.connamespace = current_schema()::regnamespace`,
  )
  return inOrder(tables, references)
}

/** @throws Error when tables refer to each other in a ring: rows could be put back in no order. */
export function inOrder(
  tables: readonly DumpedTable[],
  references: ReadonlyArray<{ readonly child: string; readonly parent: string }>,
): readonly DumpedTable[] {
  const ordered: DumpedTable[] = []
  const isIn = (name: string) => ordered.some((table) => table.name === name)
  let rest = [...tables]
  while (rest.length > 0) {
    const ready = rest.filter(({ name }) =>
      references.every(({ child, parent }) => child !== name || isIn(parent)),
    )
    if (ready.length === 0) {
      throw new Error(`tables refer to each other in a ring: ${rest.map(({ name }) => name).join(', ')}`)
    }
    ordered.push(...ready)
    rest = rest.filter((table) => !ready.includes(table))
  }
  return ordered
}

async function migrationsOf(client: pg.Client): Promise<string[]> {
  const { rows: there } = await client.query(`select to_regclass('kysely_migration') as it`)
  if ((there[0] as { it: string | null }).it === null) return []
  const { rows } = await client.query<{ name: string }>('select name from kysely_migration order by name')
  return rows.map(({ name }) => name)
}

async function stationName(client: pg.Client): Promise<string | null> {
  const { rows } = await client.query<{ name: string }>('select name from station')
  return rows[0]?.name ?? null
}

/** Numbers are given out outside of transactions: those read now are at or past every row of the snapshot. */
async function sequencesOf(client: pg.Client): Promise<NumberedColumn[]> {
  const { rows } = await client.query<{ table: string; column: string; last: string | null }>(
    `select t.relname::text as table, a.attname::text as column, pg_sequence_last_value(s.oid::regclass)::text as last
     from pg_depend d
     join pg_class s on s.oid = d.objid and s.relkind = 'S'
     join pg_class t on t.oid = d.refobjid
     join pg_attribute a on a.attrelid = t.oid and a.attnum = d.refobjsubid
     where d.classid = 'pg_class'::regclass and d.refclassid = 'pg_class'::regclass and d.deptype in ('a', 'i')
       and t.relnamespace = current_schema()::regnamespace and not t.relispartition
     order by 1, 2`,
  )
  return rows.map(({ last, ...column }) => ({ ...column, last: last === null ? null : Number(last) }))
}

async function* photosOf(
  client: pg.Client,
  { saysKept }: { readonly saysKept: boolean },
): AsyncGenerator<DumpedPhoto> {
  const kept = saysKept
    ? `case when bool_or(kept = 'whole') then 'whole' when bool_or(kept = 'small') then 'small' else 'none' end`
    : `'whole'`
  await client.query(
    `declare photos no scroll cursor for select hash, ${kept} as kept from stills group by hash order by hash`,
  )
  for (;;) {
    const { rows } = await client.query<DumpedPhoto>(`fetch ${PHOTOS_AT_ONCE} from photos`)
    yield* rows
    if (rows.length < PHOTOS_AT_ONCE) return
  }
}
