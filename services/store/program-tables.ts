/** The tables of programs as types, column for column as migration 0014 makes them. */
import type { ColumnType, Generated, GeneratedAlways, JSONColumnType } from 'kysely'
import type { KeptTargetList } from '../planning/kept-target-list.ts'
import type { TargetEdit } from '../planning/target-list.ts'
import type { NightDate, Species } from '../words.ts'

/** What stands; what was said is in `program_words`. */
export interface ProgramsTable {
  id: GeneratedAlways<number>
  name: string
  species: Species
  /** As the owner names it. */
  method: string
  from_night: NightDate
  /** Included. */
  to_night: NightDate
  note: string | null
  made_at: Date
  who: string
  finished_at: Date | null
  dropped_at: Date | null
}

export type ProgramWord = 'made' | 'changed' | 'finished' | 'dropped' | 'taken up again'

/** What can be said of a program. */
export interface ProgramFields {
  readonly name: string
  readonly species: Species
  readonly method: string
  readonly fromNight: NightDate
  readonly toNight: NightDate
  readonly note: string | null
}

/** Append-only. */
export interface ProgramWordsTable {
  id: GeneratedAlways<number>
  program_id: number
  at: Date
  who: string
  word: ProgramWord
  /** All of it as it stood after the word. */
  said: JSONColumnType<ProgramFields>
}

/** Append-only: the list as it stood after each change, with what was expected then. */
export interface TargetListVersionsTable {
  id: GeneratedAlways<number>
  program_id: number
  /** The number of edits up to it. */
  version: number
  at: Date
  who: string
  /** Null: nobody changed the list; something was said of the program. */
  edit: ColumnType<TargetEdit | null, string | null, never>
  list: JSONColumnType<KeptTargetList>
}

/** Links that need no account; the token is nowhere but in the link. */
export interface ShareLinksTable {
  id: GeneratedAlways<number>
  program_id: number
  /** SHA-256 of the token. */
  token_hash: Buffer
  for_whom: string | null
  made_at: Date
  who: string
  ends_at: Date
  revoked_at: Date | null
}

/** Append-only: the owner's word on the way between two places; the latest of a pair stands. */
export interface TrackDistancesTable {
  id: GeneratedAlways<number>
  /** Null: the homestead. Else the lower number of the two. */
  one_point: number | null
  other_point: number
  /** Null: taken back. */
  km: number | null
  at: Date
  who: string
}

/** Append-only: how a point is reached; the latest of a point stands. */
export interface AccessNotesTable {
  id: GeneratedAlways<number>
  point_id: number
  at: Date
  who: string
  road: string | null
  gates: string | null
  wet_season: string | null
  turnaround: string | null
}

/** One row, or none: the usual. */
export interface DrivingTable {
  id: Generated<number>
  km_an_hour: number
  minutes_at_point: number
}

export interface ProgramTables {
  programs: ProgramsTable
  program_words: ProgramWordsTable
  target_list_versions: TargetListVersionsTable
  share_links: ShareLinksTable
  track_distances: TrackDistancesTable
  access_notes: AccessNotesTable
  driving: DrivingTable
}
