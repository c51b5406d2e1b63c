/** The tables of what was taken at yards, and of their traps, as types, column for column as migration 0015 makes them. */
import type { GeneratedAlways } from 'kysely'
import type { Fate } from '../tally/fates.ts'
import type { TrapWordKind } from '../tally/trap-visits.ts'
import type { Species } from '../words.ts'

/** An append-only log: a row may take back an earlier one (`withdrawn`) or stand in its place (`taken` with `withdraws`). */
export interface OutcomesTable {
  /** Made by the sender. */
  id: string
  seq: GeneratedAlways<number>
  kind: 'taken' | 'withdrawn'
  program_id: number | null
  /** This and the next five: null in a `withdrawn` row only. */
  point_id: number | null
  species: Species | null
  /** Station date. */
  day: string | null
  /** As the owner names it. */
  method: string | null
  head: number | null
  fate: Fate | null
  /** As the trade calls them: bulls, cows, young. */
  class: string | null
  effort: number | null
  effort_unit: string | null
  carrier: string | null
  /** Number of the movement paper. */
  paper: string | null
  note: string | null
  who: string
  said_at: Date
  /** SHA-256 of what was sent. */
  said: Buffer
  withdraws: string | null
}

/** An append-only log, as `outcomes`. What it says of a trap's state stands in `point_states` too. */
export interface TrapLogTable {
  id: string
  seq: GeneratedAlways<number>
  kind: TrapWordKind | 'withdrawn'
  point_id: number
  /** When it was done; of a withdrawal, when it was said. */
  at: Date
  /** Head inside afterwards; null: not said. */
  held: number | null
  held_since: Date | null
  species: Species | null
  class: string | null
  note: string | null
  who: string
  said_at: Date
  said: Buffer
  withdraws: string | null
}

export interface TrapHoursTable {
  /** Null: the station's. */
  point_id: number | null
  hours: number
}

export interface OutcomeTables {
  outcomes: OutcomesTable
  trap_log: TrapLogTable
  trap_hours: TrapHoursTable
}
