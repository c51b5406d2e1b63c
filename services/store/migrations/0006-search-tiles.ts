import { type Kysely, sql } from 'kysely'

/** Large photos of a camera may be searched in parts as well (worker/eye/tiles.ts); not unless its owner says so. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`alter table cameras add column search_tiles boolean not null default false`.execute(db)
}
