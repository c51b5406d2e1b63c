import { type Kysely, sql } from 'kysely'

/**
 * Trap yards: the yards there are, how far animals go in a day, other water that the owner vouches for, when a yard was first
 * used, and plans that were kept. Each is a log: the latest word stands, and nothing said is overwritten.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const LOGS = [
  'yard_means',
  'daily_range_words',
  'other_water_words',
  'yard_first_used_words',
  'yard_plan_versions',
]

const STATEMENTS = [
  `create table yard_means (
    id integer generated always as identity primary key,
    at timestamptz not null,
    who text not null,
    portable_yards integer not null check (portable_yards >= 0),
    nights_set integer not null check (nights_set > 0),
    open_weeks integer not null check (open_weeks >= 0),
    checking_weeks integer not null check (checking_weeks >= 0)
  )`,
  // Without kilometres the owner's word is taken back, and the usual range holds.
  `create table daily_range_words (
    id integer generated always as identity primary key,
    at timestamptz not null,
    who text not null,
    species text not null,
    km double precision check (km > 0),
    source text
  )`,
  'create index daily_range_words_by_species on daily_range_words (species, id desc)',
  // "Other water for stock and wildlife is sure": which of the station's waters stay open for it, or which other there is.
  `create table other_water_words (
    id integer generated always as identity primary key,
    at timestamptz not null,
    who text not null,
    point_id integer not null references points,
    is_sure boolean not null,
    open_point_ids integer[] not null,
    elsewhere text,
    check (not is_sure or elsewhere is not null or open_point_ids <> '{}')
  )`,
  'create index other_water_words_by_point on other_water_words (point_id, id desc)',
  `create table yard_first_used_words (
    id integer generated always as identity primary key,
    at timestamptz not null,
    who text not null,
    point_id integer not null references points,
    species text not null,
    first_used date
  )`,
  'create index yard_first_used_words_by_point on yard_first_used_words (species, point_id, id desc)',
  `create table yard_plans (
    id integer generated always as identity primary key,
    made_at timestamptz not null
  )`,
  // `shown`: what was expected of it when it was kept.
  `create table yard_plan_versions (
    plan_id integer not null references yard_plans,
    version integer not null check (version > 0),
    at timestamptz not null,
    who text not null,
    withdrawn boolean not null,
    plan jsonb not null,
    shown jsonb not null,
    primary key (plan_id, version)
  )`,
  `create function yard_logs_are_append_only() returns trigger language plpgsql as $$
    begin raise exception '% are append-only', tg_table_name; end $$`,
  ...LOGS.map(
    (log) => `create trigger ${log}_append_only before update or delete on ${log}
    for each row execute function yard_logs_are_append_only()`,
  ),
]
