/** Tables of counts from notebooks, as types: never part of what is counted from photos. */
import type { GeneratedAlways } from 'kysely'
import type { NightDate, Species } from '../words.ts'

export interface PastCountFilesTable {
  id: GeneratedAlways<number>
  name: string
  sha256: Buffer
  who: string
  at: Date
  counts: number
  /** Null while it stands. */
  withdrawn_at: Date | null
  withdrawn_by: string | null
}

export interface PastCountsTable {
  file_id: number
  row_number: number
  point_id: number
  night: NightDate
  species: Species
  /** The most seen at once; 0: somebody looked and saw none. */
  head: number
  /** How often some came; null: not written down. */
  visits: number | null
  /** Part of the night that somebody watched, 0 to 1; null: not written down. */
  watched: number | null
  note: string | null
}

export interface PastCountTables {
  past_count_files: PastCountFilesTable
  past_counts: PastCountsTable
}
