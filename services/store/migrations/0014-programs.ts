import { type Kysely, sql } from 'kysely'

/** Control programs: their target lists with what was expected, links to them, and how the owner drives. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table programs (
    id integer generated always as identity primary key,
    name text not null,
    species text not null,
    method text not null,
    from_night date not null,
    to_night date not null check (to_night >= from_night),
    note text,
    made_at timestamptz not null,
    who text not null,
    finished_at timestamptz,
    dropped_at timestamptz
  )`,
  // The row above is what stands; this is everything that was said, in order.
  `create table program_words (
    id bigint generated always as identity primary key,
    program_id integer not null references programs,
    at timestamptz not null,
    who text not null,
    word text not null check (word in ('made', 'changed', 'finished', 'dropped', 'taken up again')),
    said jsonb not null
  )`,
  'create index program_words_by_program on program_words (program_id, id)',
  // Without an edit: the list as it stood when something was said of the program itself.
  `create table target_list_versions (
    id bigint generated always as identity primary key,
    program_id integer not null references programs,
    version integer not null check (version >= 0),
    at timestamptz not null,
    who text not null,
    edit jsonb,
    list jsonb not null
  )`,
  'create index target_list_versions_by_program on target_list_versions (program_id, id)',
  // Two people who change one version at once can't both be right.
  `create unique index target_list_versions_once on target_list_versions (program_id, version) where edit is not null`,
  // The token itself is nowhere but in the link.
  `create table share_links (
    id integer generated always as identity primary key,
    program_id integer not null references programs,
    token_hash bytea not null unique,
    for_whom text,
    made_at timestamptz not null,
    who text not null,
    ends_at timestamptz not null,
    revoked_at timestamptz
  )`,
  'create index share_links_by_program on share_links (program_id, id)',
  // A point that is null is the homestead; kilometres that are null take the owner's word back. The latest of a pair stands.
  `create table track_distances (
    id bigint generated always as identity primary key,
    one_point integer references points,
    other_point integer not null references points,
    km double precision check (km > 0),
    at timestamptz not null,
    who text not null,
    check (one_point is null or one_point < other_point)
  )`,
  'create index track_distances_by_pair on track_distances (one_point, other_point, id desc)',
  // The latest of a point stands.
  `create table access_notes (
    id bigint generated always as identity primary key,
    point_id integer not null references points,
    at timestamptz not null,
    who text not null,
    road text,
    gates text,
    wet_season text,
    turnaround text
  )`,
  'create index access_notes_by_point on access_notes (point_id, id desc)',
  `create table driving (
    id smallint primary key default 1 check (id = 1),
    km_an_hour double precision not null check (km_an_hour > 0),
    minutes_at_point double precision not null check (minutes_at_point >= 0)
  )`,
]
