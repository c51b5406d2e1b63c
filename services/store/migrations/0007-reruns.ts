import { type Kysely, sql } from 'kysely'

/**
 * Looking at old photos again with newer models, and counting again under newer marks: both go on in the background,
 * and what is left of them stands in the ledger, so that a kill loses nothing.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table reruns (
    id integer generated always as identity primary key,
    from_night date not null,
    to_night date not null,
    point_ids jsonb,
    camera_ids jsonb,
    unreadable_too boolean not null,
    model_id integer not null references models,
    state text not null check (state in ('running', 'paused', 'done', 'stopped')),
    made_at timestamptz not null,
    total integer not null,
    done integer not null default 0,
    failed integer not null default 0,
    last_error text,
    at_night date not null
  )`,
  // One at a time: two would pull the same photos to and fro.
  `create unique index reruns_open on reruns ((true)) where state in ('running', 'paused')`,
  `create table rerun_failures (
    rerun_id integer not null references reruns on delete cascade,
    still_id bigint not null references stills on delete cascade,
    reason text not null,
    primary key (rerun_id, still_id)
  )`,
  'create index rerun_failures_by_still on rerun_failures (still_id)',
  // Few different values, each in one entry with its rows: what an older model looked at is found, and counted, by it.
  'create index stills_by_model on stills (model_id, night) where model_id is not null',
  `create table recount (
    id smallint primary key default 1 check (id = 1),
    generation integer not null,
    state text not null check (state in ('running', 'paused', 'done')),
    total integer not null,
    done integer not null,
    last_error text
  )`,
  // A row for each point still to be counted again: how far its photos are, from the newest back.
  `create table recount_points (
    point_id integer primary key references points on delete cascade,
    before_at timestamptz,
    before_id bigint
  )`,
]
