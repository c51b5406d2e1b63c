import { type Kysely, sql } from 'kysely'

/** What is kept of a photo, the owner's rule for how long, and where photos lie. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `alter table stills add column kept text not null default 'whole' check (kept in ('whole', 'small', 'none'))`,
  // For intake, which may be sent bytes that were let go before: small, as it holds only those.
  `create index stills_let_go on stills (hash) where kept <> 'whole'`,
  // Bytes that the ledger has let go and that may still lie there.
  'create table removals (hash bytea primary key)',
  `create table keeping (
    id smallint primary key default 1 check (id = 1),
    empties text not null check (empties in ('keep', 'shrink', 'drop')),
    after_days integer not null check (after_days > 0),
    ran_at timestamptz,
    freed_photos integer,
    freed_bytes bigint,
    place text
  )`,
  `insert into keeping (empties, after_days) values ('keep', 60)`,
]
