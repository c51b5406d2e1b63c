import { type Kysely, sql } from 'kysely'

/** All points of a night or a week are read at once, whatever the years before (docs/decisions.md, "Growth"). */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`create index nights_by_night on nights (night, point_id)`.execute(db)
  await sql`create index effort_by_night on effort (night, point_id)`.execute(db)
}
