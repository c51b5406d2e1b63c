/** A database may have been made by a newer program than this one: then nothing here may touch it. */
import { type Kysely, sql } from 'kysely'
import { Refusal } from '../refusal.ts'

/** The names of the migrations that a database has been through, in order; none for one without tables. */
export async function migrationsDone<Tables>(ledger: Kysely<Tables>): Promise<readonly string[]> {
  const { rows: found } = await sql<{
    there: boolean
  }>`select to_regclass('kysely_migration') is not null as there`.execute(ledger)
  if (found[0]?.there !== true) return []
  const { rows } = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(
    ledger,
  )
  return rows.map(({ name }) => name)
}

/** What this program does not know of what `done` says, and so cannot take care of. */
export function unknownMigrations(done: readonly string[], known: readonly string[]): readonly string[] {
  return done.filter((name) => !known.includes(name))
}

/** @throws Refusal when the database has been through a migration that this program does not have. */
export function refuseNewerDatabase(done: readonly string[], known: readonly string[]): void {
  const unknown = unknownMigrations(done, known)
  if (unknown.length === 0) return
  throw new Refusal({
    kind: 'conflict',
    detail: `The database is newer than this Hooftally: it has ${unknown.join(', ')}, and this one knows up to ${known.at(-1)}. Nothing was changed.`,
    field: 'database',
    remedy:
      'Start the newer Hooftally again. To go back to this one, restore a backup that was made with it into an empty folder.',
  })
}
