import { type Kysely, sql } from 'kysely'

/**
 * Times of photos that came from a wrong clock are put right: a log of shifts, and a walk in the background that puts each
 * photo in its place. Every still keeps the time it came with.
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
  // The time it came with; null where it still stands by that.
  'alter table stills add column said_at timestamptz',
  // What speaks against its clock by itself, wherever its camera stood; clock_doubt is what stands.
  'alter table stills add column own_doubt text',
  `update stills set own_doubt = clock_doubt where clock_doubt is not null
    and clock_doubt not in ('before the camera was put up', 'after the camera was taken down')`,
  'create index stills_shifted on stills (camera_id, said_at, id) where said_at is not null',
  `create table time_shifts (
    id integer generated always as identity primary key,
    camera_id integer not null references cameras,
    from_said timestamptz not null,
    to_said timestamptz not null check (to_said >= from_said),
    last_still_id bigint not null,
    photos integer not null,
    seconds double precision not null,
    still_id bigint not null,
    at timestamptz not null,
    who text not null,
    note text
  )`,
  'create index time_shifts_by_camera on time_shifts (camera_id, id desc)',
  ...appendOnly('time_shifts'),
  `create table time_shift_undos (
    shift_id integer primary key references time_shifts,
    at timestamptz not null,
    who text not null,
    note text
  )`,
  ...appendOnly('time_shift_undos'),
  // What is left of putting a camera's photos in their places: no row, nothing to do.
  `create table placing_walks (
    camera_id integer primary key references cameras,
    total integer not null,
    done integer not null default 0,
    after_said timestamptz,
    after_id bigint,
    to_said timestamptz,
    last_error text
  )`,
]
