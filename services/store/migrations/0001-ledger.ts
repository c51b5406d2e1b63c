import { type Kysely, sql } from 'kysely'

/** The first ledger: places, cameras, stills, what was found, what people said, and the aggregates kept from them. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table station (
    id smallint primary key default 1 check (id = 1),
    name text not null,
    zone text not null,
    homestead_lat double precision not null,
    homestead_lon double precision not null,
    visit_gap_minutes double precision not null,
    cattle_away_hours double precision not null,
    demo boolean not null default false
  )`,
  `create table species_settings (
    species text primary key,
    role text not null check (role in ('stock', 'feral')),
    count_threshold double precision not null,
    flag_threshold double precision not null
  )`,
  `create table points (
    id integer generated always as identity primary key,
    name text not null unique,
    kind text not null,
    lat double precision not null,
    lon double precision not null,
    has_yard boolean not null,
    run_order integer not null,
    low_mark_percent double precision not null,
    dry_mark_percent double precision not null
  )`,
  `create table point_states (
    id bigint generated always as identity primary key,
    point_id integer not null references points,
    kind text not null,
    at timestamptz not null,
    source text not null check (source in ('tap', 'reading')),
    level_percent double precision,
    note text
  )`,
  'create index point_states_by_kind on point_states (point_id, kind, source, at desc, id desc)',
  'create index point_states_in_order on point_states (point_id, at desc, id desc)',
  `create table cameras (
    id integer generated always as identity primary key,
    name text not null unique,
    point_id integer not null references points,
    zone text,
    clock_error_seconds double precision not null,
    expected_silence_hours double precision not null,
    sends_heartbeats boolean not null,
    schedule_minutes double precision,
    key_hash bytea unique,
    key_hint text,
    last_contact_at timestamptz,
    stills integer not null default 0,
    still_bytes bigint not null default 0,
    unreadable integer not null default 0
  )`,
  'create index cameras_by_point on cameras (point_id)',
  `create table deployments (
    id integer generated always as identity primary key,
    camera_id integer not null references cameras,
    point_id integer not null references points,
    started_at timestamptz,
    ended_at timestamptz
  )`,
  'create index deployments_by_camera on deployments (camera_id, started_at)',
  'create index deployments_by_point on deployments (point_id)',
  `create table models (
    id integer generated always as identity primary key,
    name text not null,
    version text not null,
    detector_sha256 text not null,
    namer_sha256 text,
    unique nulls not distinct (name, version, detector_sha256, namer_sha256)
  )`,
  `create table stills (
    id bigint generated always as identity primary key,
    camera_id integer not null references cameras,
    point_id integer not null references points,
    hash bytea not null,
    bytes integer not null,
    format text,
    width integer,
    height integer,
    file_name text,
    taken_at timestamptz not null,
    taken_from text not null,
    clock_doubt text,
    night date not null,
    received_at timestamptz not null,
    state text not null check (state in ('received', 'done', 'unreadable')),
    reason text,
    model_id integer references models,
    flagged boolean not null default false,
    unsure boolean not null default false,
    checked boolean not null default false,
    unique (camera_id, hash)
  )`,
  'create index stills_by_point on stills (point_id, taken_at desc, id desc)',
  'create index stills_by_camera on stills (camera_id, taken_at)',
  `create index stills_waiting on stills (id) where state = 'received'`,
  'create index stills_flagged on stills (night, point_id) where flagged',
  `create index stills_unreadable on stills (point_id, received_at) where state = 'unreadable'`,
  'create index stills_in_doubt on stills (point_id, received_at) where clock_doubt is not null',
  `create table detections (
    id bigint generated always as identity primary key,
    still_id bigint not null references stills on delete cascade,
    species text not null,
    score real not null,
    runner_up real not null,
    x0 real not null,
    y0 real not null,
    x1 real not null,
    y1 real not null,
    detector real[] not null,
    namer real[]
  )`,
  'create index detections_by_still on detections (still_id)',
  `create table embeddings (
    detection_id bigint primary key references detections on delete cascade,
    half bytea not null
  )`,
  `create table checks (
    id bigint generated always as identity primary key,
    still_id bigint not null references stills,
    at timestamptz not null,
    who text not null,
    verdict text not null check (verdict in ('agreed', 'corrected', 'withdrawn')),
    counts jsonb,
    seen jsonb not null
  )`,
  'create index checks_by_still on checks (still_id, id desc)',
  // Nothing a person said is ever overwritten: the log refuses anything but an insert.
  `create function checks_are_append_only() returns trigger language plpgsql as $$
    begin raise exception 'checks are append-only'; end $$`,
  `create trigger checks_append_only before update or delete on checks
    for each row execute function checks_are_append_only()`,
  `create table sightings (
    still_id bigint not null references stills on delete cascade,
    species text not null,
    point_id integer not null,
    taken_at timestamptz not null,
    head integer not null check (head > 0),
    score real not null,
    primary key (still_id, species)
  )`,
  'create index sightings_by_point on sightings (point_id, species, taken_at)',
  `create table visits (
    id bigint generated always as identity primary key,
    point_id integer not null references points,
    species text not null,
    night date not null,
    started_at timestamptz not null,
    ended_at timestamptz not null,
    peak integer not null,
    photos integer not null,
    best_still_id bigint not null,
    unique (point_id, species, started_at)
  )`,
  'create index visits_by_night on visits (night, point_id)',
  'create index visits_by_point on visits (point_id, started_at desc, id desc)',
  'create index visits_in_order on visits (started_at desc, id desc)',
  `create table nights (
    point_id integer not null references points,
    night date not null,
    species text not null,
    visits integer not null,
    least integer not null,
    sum_of_peaks integer not null,
    photos integer not null,
    primary key (point_id, night, species)
  )`,
  `create table effort (
    point_id integer not null references points,
    night date not null,
    watched_seconds double precision not null,
    primary key (point_id, night)
  )`,
  `create table heartbeats (
    camera_id integer not null references cameras,
    at timestamptz not null,
    received_at timestamptz not null,
    battery_percent double precision,
    temperature_c double precision,
    signal_percent double precision,
    free_bytes double precision,
    primary key (camera_id, at)
  )`,
]
