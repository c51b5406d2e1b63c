import { type Kysely, sql } from 'kysely'

/**
 * Blind looks: what was drawn by lot each week, from what, with which chance, and which words were said of it. What was
 * drawn stands as it was: no re-run, recount or change of marks draws again.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  'alter table stills add column colourfulness real',
  `create table audit_settings (
    id smallint primary key default 1 check (id = 1),
    looks_a_week integer not null check (looks_a_week between 0 and 200)
  )`,
  'insert into audit_settings (looks_a_week) values (20)',
  // One a week: several services that wake at once draw once.
  `create table audits (
    id integer generated always as identity primary key,
    week_from date not null unique,
    week_to date not null,
    drawn_at timestamptz not null,
    seed text not null,
    looks_a_week integer not null,
    marks jsonb not null,
    could_not_be_drawn integer not null
  )`,
  // How many looks there were to draw from, by species (flagged ones: what the machine took them for), camera and light
  // within each stratum, so that each can be told apart later.
  `create table audit_strata (
    audit_id integer not null references audits on delete cascade,
    side text not null check (side in ('flagged', 'not flagged')),
    stratum text not null,
    species text not null,
    camera_id integer not null references cameras,
    point_id integer not null references points,
    light text not null,
    looks integer not null,
    primary key (audit_id, side, stratum, species, camera_id, point_id, light)
  )`,
  `create table audit_looks (
    id bigint generated always as identity primary key,
    audit_id integer not null references audits on delete cascade,
    side text not null check (side in ('flagged', 'not flagged')),
    stratum text not null,
    species text,
    camera_id integer not null references cameras,
    point_id integer not null references points,
    light text not null,
    model_id integer references models,
    score real not null,
    chance double precision not null,
    place integer not null,
    gap_minutes double precision not null,
    machine jsonb not null,
    unique (audit_id, place)
  )`,
  `create table audit_stills (
    look_id bigint not null references audit_looks on delete cascade,
    still_id bigint not null references stills on delete cascade,
    primary key (look_id, still_id)
  )`,
  'create index audit_stills_by_still on audit_stills (still_id)',
  // A word said on a blind look is an ordinary check; this says that it was asked for by lot.
  `create table audit_words (
    look_id bigint not null references audit_looks on delete cascade,
    check_id bigint not null references checks,
    primary key (look_id, check_id)
  )`,
  'create unique index audit_words_by_check on audit_words (check_id)',
  // What people had looked at of their own accord before the draw: it stands for itself and for nothing else.
  `create table audit_known (
    audit_id integer not null references audits on delete cascade,
    side text not null check (side in ('flagged', 'not flagged')),
    species text not null,
    camera_id integer not null references cameras,
    light text not null,
    looks integer not null,
    hits integer not null,
    primary key (audit_id, side, species, camera_id, light)
  )`,
  // What the machine counted in the week, and what words before the draw changed of it.
  `create table audit_counts (
    audit_id integer not null references audits on delete cascade,
    point_id integer not null references points,
    species text not null,
    visits integer not null,
    head integer not null,
    known_visits integer not null,
    known_head integer not null,
    primary key (audit_id, point_id, species)
  )`,
]
