/** The tables of how cameras' photos are fetched, column for column as the migrations make them. */
import type { ColumnType, Generated, GeneratedAlways } from 'kysely'
import type { SourceKindName } from '../words.ts'

export interface CameraSourcesTable {
  id: GeneratedAlways<number>
  camera_id: number
  kind: SourceKindName
  /** As the kind's own schema has it, passwords among them: never to be answered or logged as it is. */
  settings: ColumnType<unknown, string, string>
  is_on: boolean
  last_try_at: Date | null
  last_ok_at: Date | null
  /** Why the last try brought nothing, in words for a person; null where it did. */
  last_reason: string | null
  /** Tries in a row that failed. */
  failures: Generated<number>
  /** Null: at once. */
  next_at: Date | null
  /** What the kind must know to go on after a restart. */
  state: ColumnType<unknown, string | undefined, string>
}

/** A file of a drop folder that is done with and still lies there. */
export interface DroppedFilesTable {
  source_id: number
  /** Within the folder. */
  path: string
  bytes: number
  modified_at: Date
  at: Date
  /** Null: taken, and left where it was. Else why it was not. */
  reason: string | null
}

/** One row. */
export interface IntakeLimitsTable {
  id: Generated<number>
  still_megabytes: number
  megapixels: number
  /** Of one camera; null: no limit. */
  stills_a_minute: number | null
  stills_a_day: number | null
}

/** A kept aggregate: the lowest battery reading of a camera's day. */
export interface BatteryDaysTable {
  camera_id: number
  /** `2026-11-24`, in UTC. */
  day: string
  lowest_percent: number
}

export interface SourceTables {
  camera_sources: CameraSourcesTable
  dropped_files: DroppedFilesTable
  intake_limits: IntakeLimitsTable
  battery_days: BatteryDaysTable
}
