import { type Kysely, sql } from 'kysely'

/**
 * Trips that a photo or a point asks for, and a log of what was said of each: nothing in it is ever changed. And the days of
 * what was taken are found by index.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  'create index outcomes_by_day on outcomes (day, seq)',
  `create table jobs (
    id uuid primary key,
    seq bigint generated always as identity unique,
    point_id integer not null references points,
    still_id bigint references stills,
    trouble text not null check (trouble in ('trough leak', 'float', 'camera down', 'other')),
    made_at timestamptz not null,
    said bytea not null,
    open boolean not null default true
  )`,
  'create index jobs_of_photo on jobs (still_id) where still_id is not null',
  'create index jobs_open on jobs (point_id, seq) where open',
  'create index jobs_in_order on jobs (seq desc)',
  `create table job_words (
    id uuid primary key,
    seq bigint generated always as identity unique,
    job_id uuid not null references jobs,
    word text not null check (word in ('asked for', 'handed on', 'note', 'done', 'open again', 'not needed')),
    who text not null,
    person text,
    note text,
    at timestamptz not null,
    said bytea not null
  )`,
  'create index job_words_of_job on job_words (job_id, seq)',
  `create function job_words_are_append_only() returns trigger language plpgsql as $$
    begin raise exception 'job_words are append-only'; end $$`,
  `create trigger job_words_append_only before update or delete on job_words
    for each row execute function job_words_are_append_only()`,
]
