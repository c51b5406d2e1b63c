/** The ledger's tables for where cameras stood, what kept them from seeing, and times put right. */
import type { Generated, GeneratedAlways, JSONColumnType } from 'kysely'
import type { NightDate } from '../words.ts'

/** A camera's time at a point as the log of changes keeps it; null: not known, or not over. */
export interface LoggedTime {
  readonly pointId: number
  readonly from: string | null
  readonly to: string | null
}

export interface CameraTimeChangesTable {
  id: GeneratedAlways<number>
  camera_id: number
  at: Date
  who: string
  note: string | null
  before: JSONColumnType<readonly LoggedTime[]>
  after: JSONColumnType<readonly LoggedTime[]>
}

export const TROUBLE_KINDS = ['blind', 'knocked', 'card full', 'unreadable'] as const
export type TroubleKind = (typeof TROUBLE_KINDS)[number]

/** A stretch in which a camera spoke and could not see. */
export interface CameraTroublesTable {
  id: GeneratedAlways<number>
  camera_id: number
  kind: TroubleKind
  from_at: Date
  to_at: Date | null
  found_at: Date
  still_id: number | null
  /** A person's last word says that nothing was wrong. */
  is_fine: Generated<boolean>
}

export const TROUBLE_WORDS = ['fine', 'set right', 'taken back'] as const
export type TroubleWord = (typeof TROUBLE_WORDS)[number]

export interface CameraTroubleWordsTable {
  id: GeneratedAlways<number>
  trouble_id: number
  at: Date
  who: string
  word: TroubleWord
  set_right_at: Date | null
  note: string | null
}

/** A person's word on how much of a night was watched; a share of null takes the word back. */
export interface EffortWordsTable {
  id: GeneratedAlways<number>
  point_id: number
  night: NightDate
  share: number | null
  at: Date
  who: string
  note: string | null
}

/** A run of a camera's stills moved in time: those that came with a time from `from_said` to `to_said`. */
export interface TimeShiftsTable {
  id: GeneratedAlways<number>
  camera_id: number
  from_said: Date
  to_said: Date
  /** Stills that came in after it are not meant. */
  last_still_id: number
  /** How many there were. */
  photos: number
  seconds: number
  /** The photo of which its true time was said. */
  still_id: number
  at: Date
  who: string
  note: string | null
}

export interface TimeShiftUndosTable {
  shift_id: number
  at: Date
  who: string
  note: string | null
}

/** A camera whose stills are being put in their places; null: from the first, or to the last. */
export interface PlacingWalksTable {
  camera_id: number
  total: number
  done: Generated<number>
  after_said: Date | null
  after_id: number | null
  to_said: Date | null
  last_error: string | null
}

export interface ClockTables {
  camera_time_changes: CameraTimeChangesTable
  camera_troubles: CameraTroublesTable
  camera_trouble_words: CameraTroubleWordsTable
  effort_words: EffortWordsTable
  time_shifts: TimeShiftsTable
  time_shift_undos: TimeShiftUndosTable
  placing_walks: PlacingWalksTable
}
