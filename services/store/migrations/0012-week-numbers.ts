import { type Kysely, sql } from 'kysely'

/**
 * What the week's numbers and the alarms of cattle need beside the counts: ratings that the owner set, limits learned once
 * a day, and the log of "that is normal here".
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  // Only what the owner set; the others stand in services/tally/default-ratings.ts.
  `create table ratings (
    species text not null,
    kind text not null check (kind in ('litres', 'sheep', 'visits a day')),
    low double precision not null,
    high double precision not null check (high >= low),
    source text not null,
    primary key (species, kind)
  )`,
  // Made again whole from the kept visits, so it can be lost.
  `create table cattle_limits (
    point_id integer not null references points on delete cascade,
    season text not null check (season in ('hot', 'cool')),
    kind text not null check (kind in ('away', 'heat stay')),
    hours double precision not null,
    learned_from text not null check (learned_from in ('this point', 'the station')),
    ended integer not null,
    watched_weeks double precision not null,
    points integer not null,
    least_head integer,
    primary key (point_id, season, kind)
  )`,
  // Of all visits few are so long, and only those can be a mob that hangs on water (services/tally/heat-stays.ts).
  `create index visits_long on visits (point_id, started_at)
    where species = 'cattle' and ended_at - started_at >= interval '1 hour'`,
  `create table cattle_limits_learned (
    id smallint primary key default 1 check (id = 1),
    at timestamptz not null
  )`,
  `create table normal_words (
    id integer generated always as identity primary key,
    point_id integer not null references points,
    at timestamptz not null,
    who text not null,
    silent_hours double precision not null check (silent_hours > 0),
    note text
  )`,
  'create index normal_words_by_point on normal_words (point_id, at desc, id desc)',
  // Nothing a person said is ever overwritten: the log refuses anything but an insert.
  `create function normal_words_are_append_only() returns trigger language plpgsql as $$
    begin raise exception 'normal_words are append-only'; end $$`,
  `create trigger normal_words_append_only before update or delete on normal_words
    for each row execute function normal_words_are_append_only()`,
]
