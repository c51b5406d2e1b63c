/** Tables of the week's numbers and of the alarms of cattle, as types. */
import type { Generated, GeneratedAlways } from 'kysely'
import type { Season } from '../tally/absences.ts'
import type { RatingKind } from '../tally/load.ts'
import type { Species } from '../words.ts'

/** What the owner set; a rating that is not here is the usual one. */
export interface RatingsTable {
  species: Species
  kind: RatingKind
  low: number
  high: number
  source: string
}

/** Learned once a day from visits and contacts; one that is not here could not be learned. */
export interface CattleLimitsTable {
  point_id: number
  season: Season
  kind: 'away' | 'heat stay'
  hours: number
  learned_from: 'this point' | 'the station'
  ended: number
  watched_weeks: number
  /** Points with cattle, over which the station's one false alarm a week is shared out. */
  points: number
  /** Of a stay in the heat: visits of fewer are not a mob. */
  least_head: number | null
}

export interface CattleLimitsLearnedTable {
  id: Generated<number>
  at: Date
}

/** "That is normal here": an append-only log; the latest of a point stands, for 30 days. */
export interface NormalWordsTable {
  id: GeneratedAlways<number>
  point_id: number
  at: Date
  who: string
  /** Watched hours since cattle were last seen, when it was said. */
  silent_hours: number
  note: string | null
}

export interface PressureTables {
  ratings: RatingsTable
  cattle_limits: CattleLimitsTable
  cattle_limits_learned: CattleLimitsLearnedTable
  normal_words: NormalWordsTable
}
