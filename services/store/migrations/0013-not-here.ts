import { type Kysely, sql } from 'kysely'

/** Species that never come to this station, by the owner's word: a namer of its own may name theirs as others. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql.raw(`alter table namer_settings add column absent jsonb not null default '[]'`).execute(db)
}
