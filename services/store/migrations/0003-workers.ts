import { type Kysely, sql } from 'kysely'

/** Machines that look at photos: their keys, what they said of themselves, and the name of the queue they share. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table worker_keys (
    id integer generated always as identity primary key,
    name text not null,
    key_hash bytea not null unique,
    key_hint text not null,
    made_at timestamptz not null,
    revoked_at timestamptz
  )`,
  `create table workers (
    id integer generated always as identity primary key,
    key_id integer not null references worker_keys,
    name text not null,
    version text not null,
    joined_at timestamptz not null,
    last_word_at timestamptz not null,
    done bigint not null default 0,
    failed bigint not null default 0,
    photos_an_hour double precision not null default 0,
    unique (key_id, name)
  )`,
  // Several stations may share one Redis, and ids of stills begin at 1 in each.
  `create table worker_queue (
    id smallint primary key default 1 check (id = 1),
    name text not null
  )`,
  `insert into worker_queue (name) values ('stills-' || gen_random_uuid())`,
]
