import { type Kysely, sql } from 'kysely'

/**
 * Counts from before there were cameras, as a person wrote them down. They stand apart from sightings, visits and nights,
 * which are made of photos and of nothing else.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table past_count_files (
    id integer generated always as identity primary key,
    name text not null,
    sha256 bytea not null,
    who text not null,
    at timestamptz not null,
    counts integer not null,
    withdrawn_at timestamptz,
    withdrawn_by text
  )`,
  // The same file twice is one file; withdrawn, it may come again.
  `create unique index past_count_files_standing on past_count_files (sha256) where withdrawn_at is null`,
  `create table past_counts (
    file_id integer not null references past_count_files,
    -- As a person counts them: the first under the heads of the columns is 1.
    row_number integer not null,
    point_id integer not null references points,
    night date not null,
    species text not null,
    head integer not null check (head >= 0),
    visits integer check (visits >= 0),
    -- Part of the night somebody watched; null: the notebook does not say.
    watched double precision check (watched >= 0 and watched <= 1),
    note text,
    primary key (file_id, row_number)
  )`,
  'create index past_counts_by_point on past_counts (point_id, night)',
  'create index past_counts_by_night on past_counts (night)',
]
