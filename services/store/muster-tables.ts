/** Tables of the muster, as types. */
import type { ColumnType } from 'kysely'
import type { MusterFigures } from '../planning/muster-figures.ts'

/** An append-only log; the latest version stands. */
export interface MusterVersionsTable {
  version: number
  at: Date
  who: string
  note: string | null
  figures: ColumnType<MusterFigures, string, never>
}

export interface MusterTables {
  muster_versions: MusterVersionsTable
}
