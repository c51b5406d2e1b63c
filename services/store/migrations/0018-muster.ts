import { type Kysely, sql } from 'kysely'

/** The owner's figures for a muster and for a time without rain: each change a version, the latest stands. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table muster_versions (
    version integer primary key check (version >= 1),
    at timestamptz not null,
    who text not null,
    note text,
    figures jsonb not null
  )`,
  // Nothing a person said is ever overwritten: the log refuses anything but an insert.
  `create function muster_versions_are_append_only() returns trigger language plpgsql as $$
    begin raise exception 'muster_versions are append-only'; end $$`,
  `create trigger muster_versions_append_only before update or delete on muster_versions
    for each row execute function muster_versions_are_append_only()`,
]
