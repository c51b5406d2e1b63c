import { type Kysely, sql } from 'kysely'

/**
 * When a camera stood where can be changed later, with a log of every change; what the eye measures of a whole picture; and
 * stretches in which a camera spoke and could not see, with people's words on them and on a night's watching.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const appendOnly = (table: string) => [
  `create function ${table}_are_append_only() returns trigger language plpgsql as $$
    begin raise exception '${table} are append-only'; end $$`,
  `create trigger ${table}_append_only before update or delete on ${table}
    for each row execute function ${table}_are_append_only()`,
]

const STATEMENTS = [
  // False once it was taken down: it is missed by nobody then.
  'alter table cameras add column is_up boolean not null default true',
  // Goes up with each change of where it stood: a still that was placed by an older one is placed again.
  'alter table cameras add column times_version integer not null default 0',
  `create table camera_time_changes (
    id integer generated always as identity primary key,
    camera_id integer not null references cameras,
    at timestamptz not null,
    who text not null,
    note text,
    before jsonb not null,
    after jsonb not null
  )`,
  'create index camera_time_changes_by_camera on camera_time_changes (camera_id, id desc)',
  ...appendOnly('camera_time_changes'),
  // Null for one looked at before they were measured (worker/eye/whole-picture.ts).
  'alter table stills add column contrast real',
  'alter table stills add column detail real',
  'alter table stills add column view bytea',
  `create table camera_troubles (
    id integer generated always as identity primary key,
    camera_id integer not null references cameras,
    kind text not null check (kind in ('blind', 'knocked', 'card full', 'unreadable')),
    from_at timestamptz not null,
    to_at timestamptz,
    found_at timestamptz not null,
    still_id bigint,
    is_fine boolean not null default false,
    check (to_at is null or to_at >= from_at)
  )`,
  'create index camera_troubles_by_camera on camera_troubles (camera_id, from_at)',
  // One of a kind at a time.
  'create unique index camera_troubles_open on camera_troubles (camera_id, kind) where to_at is null and not is_fine',
  `create table camera_trouble_words (
    id integer generated always as identity primary key,
    trouble_id integer not null references camera_troubles,
    at timestamptz not null,
    who text not null,
    word text not null check (word in ('fine', 'set right', 'taken back')),
    set_right_at timestamptz,
    note text
  )`,
  'create index camera_trouble_words_by_trouble on camera_trouble_words (trouble_id, id desc)',
  ...appendOnly('camera_trouble_words'),
  // The latest of a point and night stands; a share of null takes the word back.
  `create table effort_words (
    id integer generated always as identity primary key,
    point_id integer not null references points,
    night date not null,
    share double precision check (share between 0 and 1),
    at timestamptz not null,
    who text not null,
    note text
  )`,
  'create index effort_words_by_night on effort_words (point_id, night, id desc)',
  ...appendOnly('effort_words'),
]
