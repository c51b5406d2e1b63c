import { type Kysely, sql } from 'kysely'

/**
 * The station's own animals: kinds of its own, namers that learned from its checks, and which of them names its boxes.
 * The names the models gave stay beside those of a namer, so that they can be put back.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table own_kinds (
    id integer generated always as identity primary key,
    name text not null,
    made_at timestamptz not null
  )`,
  'create unique index own_kinds_by_name on own_kinds (lower(name))',
  // A row for each asking, taken or not: its number is its version.
  `create table namers (
    id integer generated always as identity primary key,
    detector_sha256 text not null,
    namer_sha256 text not null,
    kinds jsonb not null,
    learned jsonb not null,
    weights bytea not null,
    ridge double precision not null,
    crops integer not null,
    seed text not null,
    marks jsonb not null,
    trial jsonb not null,
    verdict text not null check (verdict in
      ('take', 'no better than chance', 'worse for a species', 'too few nights')),
    made_at timestamptz not null
  )`,
  // What it learned from. A second look replaces boxes, so their numbers are kept as they were.
  `create table namer_crops (
    namer_id integer not null references namers on delete cascade,
    detection_id bigint not null,
    still_id bigint not null references stills on delete cascade,
    check_id bigint not null references checks,
    kind text not null,
    primary key (namer_id, detection_id)
  )`,
  'create index namer_crops_by_still on namer_crops (still_id)',
  `create table namer_settings (
    id smallint primary key default 1 check (id = 1),
    is_on boolean not null default true,
    takes_new boolean not null default true,
    in_use integer references namers
  )`,
  'insert into namer_settings default values',
  // Whose result it is: the models alone, or with a namer of the station's own.
  `alter table models add column station_namer integer references namers`,
  `alter table models drop constraint models_name_version_detector_sha256_namer_sha256_key`,
  `alter table models add unique nulls not distinct (name, version, detector_sha256, namer_sha256, station_namer)`,
  // What the models' own namer said where the station's spoke; the station's own kind where it says one.
  'alter table detections add column base_namer real[], add column own_kind text',
  // Only what can be named again from what is kept, without a look at the photo.
  'alter table reruns add column names_only boolean not null default false',
  'create index stills_with_a_word on stills (id) where checked',
]
