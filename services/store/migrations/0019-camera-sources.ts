import { type Kysely, sql } from 'kysely'

/** How a camera's photos are fetched, how much of them is taken, and what is kept to foretell a flat battery. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table camera_sources (
    id integer generated always as identity primary key,
    camera_id integer not null references cameras on delete cascade,
    kind text not null check (kind in ('drop folder', 'snapshot', 'mail')),
    settings jsonb not null,
    is_on boolean not null,
    last_try_at timestamptz,
    last_ok_at timestamptz,
    last_reason text,
    failures integer not null default 0,
    next_at timestamptz,
    state jsonb not null default '{}'
  )`,
  'create index camera_sources_by_camera on camera_sources (camera_id)',
  // Files of drop folders that are done with and still lie there: taken and left, or set aside for a reason.
  `create table dropped_files (
    source_id integer not null references camera_sources on delete cascade,
    path text not null,
    bytes bigint not null,
    modified_at timestamptz not null,
    at timestamptz not null,
    reason text,
    primary key (source_id, path)
  )`,
  `create table intake_limits (
    id smallint primary key default 1 check (id = 1),
    still_megabytes double precision not null check (still_megabytes > 0),
    megapixels double precision not null check (megapixels > 0),
    stills_a_minute integer check (stills_a_minute > 0),
    stills_a_day integer check (stills_a_day > 0)
  )`,
  'insert into intake_limits values (1, 30, 100, 600, 20000)',
  // A camera's day of photos begins with the first after the last day is over.
  'alter table cameras add column day_began_at timestamptz, add column day_stills integer not null default 0',
  // The lowest battery reading of a day (UTC). Readings are never changed, so neither is what was the lowest.
  `create table battery_days (
    camera_id integer not null references cameras on delete cascade,
    day date not null,
    lowest_percent real not null,
    primary key (camera_id, day)
  )`,
  'create index battery_days_by_day on battery_days (day)',
  `insert into battery_days
    select camera_id, (at at time zone 'UTC')::date, min(battery_percent) from heartbeats
    where battery_percent is not null group by 1, 2`,
]
