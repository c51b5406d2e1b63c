import { type Kysely, sql } from 'kysely'

/**
 * What was taken at a yard, and what was done with its trap: two logs that nothing is ever changed in. A word may take back an
 * earlier one, or stand in its place; each carries an id that its sender made, so that sent twice it is said once.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table outcomes (
    id uuid primary key,
    seq bigint generated always as identity unique,
    kind text not null check (kind in ('taken', 'withdrawn')),
    program_id integer references programs,
    point_id integer references points,
    species text,
    day date,
    method text,
    head integer check (head >= 0),
    fate text check (fate in ('trucked', 'released', 'destroyed', 'died')),
    class text,
    effort double precision check (effort > 0),
    effort_unit text,
    carrier text,
    paper text,
    note text,
    who text not null,
    said_at timestamptz not null,
    said bytea not null,
    withdraws uuid unique references outcomes,
    check (kind <> 'withdrawn' or withdraws is not null),
    check (kind <> 'taken' or (point_id is not null and species is not null and day is not null
      and method is not null and head is not null and fate is not null)),
    check ((effort is null) = (effort_unit is null))
  )`,
  'create index outcomes_of_program on outcomes (program_id, day, seq)',
  'create index outcomes_at_point on outcomes (point_id, day, seq)',
  `create table trap_log (
    id uuid primary key,
    seq bigint generated always as identity unique,
    kind text not null check (kind in ('trap set', 'trap open', 'trap shut down', 'visited', 'withdrawn')),
    point_id integer not null references points,
    at timestamptz not null,
    held integer check (held >= 0),
    held_since timestamptz,
    species text,
    class text,
    note text,
    who text not null,
    said_at timestamptz not null,
    said bytea not null,
    withdraws uuid unique references trap_log,
    check (kind <> 'withdrawn' or withdraws is not null)
  )`,
  'create index trap_log_at_point on trap_log (point_id, at desc, seq desc)',
  // Which word a trap's state was made by: the state goes when the word is taken back, the word stays.
  'alter table point_states add column trap_word uuid unique',
  `update point_states set trap_word = gen_random_uuid() where kind in ('trap set', 'trap open', 'trap shut down')`,
  `insert into trap_log (id, kind, point_id, at, note, who, said_at, said)
    select trap_word, kind, point_id, at, note, 'station', at, '' from point_states
    where trap_word is not null order by id`,
  'alter table point_states add foreign key (trap_word) references trap_log',
  // How long a set trap may go without a visit: of one point, or of the station (no point).
  `create table trap_hours (
    point_id integer unique nulls not distinct references points on delete cascade,
    hours double precision not null check (hours > 0 and hours <= 24)
  )`,
  ...['outcomes', 'trap_log'].flatMap((table) => [
    `create function ${table}_are_append_only() returns trigger language plpgsql as $$
      begin raise exception '${table} are append-only'; end $$`,
    `create trigger ${table}_append_only before update or delete on ${table}
      for each row execute function ${table}_are_append_only()`,
  ]),
]
