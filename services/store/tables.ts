/** The ledger's tables as types, column for column as the migrations make them. Times are JavaScript dates here only. */
import type { ColumnType, Generated, GeneratedAlways, JSONColumnType } from 'kysely'
import type { EmptiesRule, Kept } from '../tally/keeping.ts'
import type {
  DrawnBox,
  Mark,
  ModelIdentity,
  Name,
  NightDate,
  Others,
  PointKind,
  Role,
  Species,
  StateKind,
  TakenFrom,
  Tally,
  Thresholds,
} from '../words.ts'
import type { AuditTables } from './audit-tables.ts'
import type { ClockTables } from './clock-tables.ts'
import type { JobTables } from './job-tables.ts'
import type { MailTables } from './mail-tables.ts'
import type { MusterTables } from './muster-tables.ts'
import type { OutcomeTables } from './outcome-tables.ts'
import type { OwnAnimalTables } from './own-animal-tables.ts'
import type { PastCountTables } from './past-count-tables.ts'
import type { PressureTables } from './pressure-tables.ts'
import type { ProgramTables } from './program-tables.ts'
import type { SourceTables } from './source-tables.ts'
import type { YardPlanTables } from './yard-plan-tables.ts'

export type StillState = 'received' | 'done' | 'unreadable'
/** `marked`: says nothing of the count, which stays as it stood. */
export type Verdict = 'agreed' | 'corrected' | 'marked' | 'withdrawn'

/** What the person had before them when they spoke. */
export interface SeenWhenChecked {
  readonly models: ModelIdentity | null
  readonly thresholds: Readonly<Partial<Record<Name, Thresholds>>>
  readonly tally: Tally
}

export interface StationTable {
  id: Generated<number>
  name: string
  zone: string
  homestead_lat: number
  homestead_lon: number
  visit_gap_minutes: number
  cattle_away_hours: number
  demo: boolean
}

export interface SpeciesSettingsTable {
  species: Species
  role: Role
  count_threshold: number
  flag_threshold: number
}

export interface PointsTable {
  id: GeneratedAlways<number>
  name: string
  kind: PointKind
  lat: number
  lon: number
  has_yard: boolean
  run_order: number
  low_mark_percent: number
  dry_mark_percent: number
}

export interface PointStatesTable {
  id: GeneratedAlways<number>
  point_id: number
  kind: StateKind
  at: Date
  source: 'tap' | 'reading'
  level_percent: number | null
  note: string | null
  /** The word in the trap log that made it; null for what is not of a trap. */
  trap_word: string | null
}

export interface CamerasTable {
  id: GeneratedAlways<number>
  name: string
  point_id: number
  zone: string | null
  clock_error_seconds: number
  expected_silence_hours: number
  sends_heartbeats: boolean
  schedule_minutes: number | null
  search_tiles: Generated<boolean>
  key_hash: Buffer | null
  key_hint: string | null
  last_contact_at: Date | null
  stills: Generated<number>
  still_bytes: Generated<number>
  unreadable: Generated<number>
  /** When the camera's present day of photos began, for its limit a day (intake/allowance.ts). */
  day_began_at: Generated<Date | null>
  day_stills: Generated<number>
  /** False once it was taken down. */
  is_up: Generated<boolean>
  /** Goes up with each change of where and when it stood. */
  times_version: Generated<number>
}

export interface DeploymentsTable {
  id: GeneratedAlways<number>
  camera_id: number
  point_id: number
  started_at: Date | null
  ended_at: Date | null
}

export interface ModelsTable {
  id: GeneratedAlways<number>
  name: string
  version: string
  detector_sha256: string
  namer_sha256: string | null
  /** The station's own namer that named after them; null for the models alone. */
  station_namer: number | null
}

export interface StillsTable {
  id: GeneratedAlways<number>
  camera_id: number
  point_id: number
  hash: Buffer
  bytes: number
  format: string | null
  width: number | null
  height: number | null
  file_name: string | null
  taken_at: Date
  taken_from: TakenFrom
  clock_doubt: string | null
  night: NightDate
  received_at: Date
  state: StillState
  reason: string | null
  model_id: number | null
  flagged: Generated<boolean>
  unsure: Generated<boolean>
  feral: Generated<boolean>
  checked: Generated<boolean>
  kept: Generated<Kept>
  /** 0 for grey (worker/eye/colourfulness.ts); null for one looked at before that was measured. */
  colourfulness: number | null
  /** A standing word says that a person is in it: what-may-leave.ts. */
  person: Generated<boolean>
  /** How sharp its best animal is (worker/eye/sharpness.ts); null for one looked at before that was measured. */
  sharpness: number | null
  /** Of the whole picture (worker/eye/whole-picture.ts); null where nobody measured them. */
  contrast: number | null
  detail: number | null
  view: Buffer | null
  /** The time it came with; null where that still stands. */
  said_at: Date | null
  /** What speaks against its clock by itself; clock_doubt is what stands (services/tally/placing.ts). */
  own_doubt: string | null
}

export interface DetectionsTable {
  id: GeneratedAlways<number>
  still_id: number
  species: Species
  score: number
  runner_up: number
  x0: number
  y0: number
  x1: number
  y1: number
  detector: readonly number[]
  /** In use: the station's own namer's where there is one. */
  namer: readonly number[] | null
  /** What the models' namer said, where the station's own has spoken; else null. */
  base_namer: readonly number[] | null
  /** The kind of the station's own that its namer says, if any. */
  own_kind: string | null
}

export interface EmbeddingsTable {
  detection_id: number
  /** Little-endian IEEE 754 half-precision numbers. */
  half: Buffer
}

export interface ChecksTable {
  id: GeneratedAlways<number>
  still_id: number
  at: Date
  who: string
  verdict: Verdict
  /** What is there by this word; null where it says nothing of the count and nothing stood. */
  counts: ColumnType<Tally | null, string | null, never>
  seen: JSONColumnType<SeenWhenChecked>
  batch_id: string | null
  /** Each null: none. */
  marks: ColumnType<readonly Mark[] | null, string | null, never>
  others: ColumnType<Others | null, string | null, never>
  boxes: ColumnType<readonly DrawnBox[] | null, string | null, never>
}

/** Words that came together under an id made by the sender, so that sent twice they are said once. */
export interface CheckBatchesTable {
  id: string
  at: Date
  who: string
  /** SHA-256 of what was sent under it. */
  said: Buffer
}

/** The standing tally of a still, one row a species: what visits and nights are made of. */
export interface SightingsTable {
  still_id: number
  species: Species
  point_id: number
  taken_at: Date
  head: number
  score: number
}

export interface VisitsTable {
  id: GeneratedAlways<number>
  point_id: number
  species: Species
  night: NightDate
  started_at: Date
  ended_at: Date
  peak: number
  photos: number
  best_still_id: number
}

export interface NightsTable {
  point_id: number
  night: NightDate
  species: Species
  visits: number
  least: number
  sum_of_peaks: number
  photos: number
}

export interface EffortTable {
  point_id: number
  night: NightDate
  watched_seconds: number
}

export interface HeartbeatsTable {
  camera_id: number
  at: Date
  received_at: Date
  battery_percent: number | null
  temperature_c: number | null
  signal_percent: number | null
  free_bytes: number | null
}

export type RerunState = 'running' | 'paused' | 'done' | 'stopped'

/** Old stills looked at again by newer models; at most one is running or paused. */
export interface RerunsTable {
  id: GeneratedAlways<number>
  from_night: NightDate
  to_night: NightDate
  /** Null: all. */
  point_ids: ColumnType<readonly number[] | null, string | null, never>
  camera_ids: ColumnType<readonly number[] | null, string | null, never>
  unreadable_too: boolean
  /** Only what can be named again from what is kept, without a look at the photo. */
  names_only: Generated<boolean>
  model_id: number
  state: RerunState
  made_at: Date
  total: number
  done: Generated<number>
  failed: Generated<number>
  last_error: string | null
  /** Nothing is left in the nights after it. */
  at_night: NightDate
}

export interface RerunFailuresTable {
  rerun_id: number
  still_id: number
  reason: string
}

/** Counting again under new marks: one row, the latest. `generation` goes up with each change of the marks. */
export interface RecountTable {
  id: Generated<number>
  generation: number
  state: 'running' | 'paused' | 'done'
  total: number
  done: number
  last_error: string | null
}

/** Points still to be counted again; null: from the newest still on. */
export interface RecountPointsTable {
  point_id: number
  before_at: Date | null
  before_id: number | null
}

/** Keys of machines that look at photos. */
export interface WorkerKeysTable {
  id: GeneratedAlways<number>
  name: string
  key_hash: Buffer
  key_hint: string
  made_at: Date
  revoked_at: Date | null
}

export interface WorkersTable {
  id: GeneratedAlways<number>
  key_id: number
  name: string
  version: string
  joined_at: Date
  last_word_at: Date
  done: Generated<number>
  failed: Generated<number>
  photos_an_hour: Generated<number>
}

/** One row: the name of the station's queue in Redis. */
export interface WorkerQueueTable {
  id: Generated<number>
  name: string
}

/** One row: the owner's rule for empty photos, what its last run freed, and where photos lie. */
export interface KeepingTable {
  id: Generated<number>
  empties: EmptiesRule
  after_days: number
  ran_at: Date | null
  freed_photos: number | null
  freed_bytes: number | null
  place: string | null
}

/** Bytes that the ledger has let go and that may still lie there. */
export interface RemovalsTable {
  hash: Buffer
}

export interface Tables
  extends AuditTables,
    JobTables,
    ClockTables,
    MailTables,
    MusterTables,
    OutcomeTables,
    OwnAnimalTables,
    PastCountTables,
    PressureTables,
    ProgramTables,
    SourceTables,
    YardPlanTables {
  station: StationTable
  species_settings: SpeciesSettingsTable
  points: PointsTable
  point_states: PointStatesTable
  cameras: CamerasTable
  deployments: DeploymentsTable
  models: ModelsTable
  stills: StillsTable
  detections: DetectionsTable
  embeddings: EmbeddingsTable
  checks: ChecksTable
  check_batches: CheckBatchesTable
  sightings: SightingsTable
  visits: VisitsTable
  nights: NightsTable
  effort: EffortTable
  heartbeats: HeartbeatsTable
  worker_keys: WorkerKeysTable
  workers: WorkersTable
  worker_queue: WorkerQueueTable
  keeping: KeepingTable
  removals: RemovalsTable
  reruns: RerunsTable
  rerun_failures: RerunFailuresTable
  recount: RecountTable
  recount_points: RecountPointsTable
}
