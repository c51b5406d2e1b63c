import { type Kysely, sql } from 'kysely'

/** What waits is taken up in order of urgency (services/store/waiting.ts), whatever the backlog. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`drop index stills_waiting`.execute(db)
  await sql`create index stills_waiting on stills ((received_at - taken_at > interval '36 hours'), id)
    where state = 'received'`.execute(db)
}
