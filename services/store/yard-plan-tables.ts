/** The tables of the trap yards as types, column for column as migration 0017 makes them. Logs: the latest row stands. */
import type { GeneratedAlways, JSONColumnType } from 'kysely'
import type { KeptYardPlan, YardPlanFigures } from '../planning/yard-plan.ts'
import type { NightDate, Species } from '../words.ts'

interface YardMeansTable {
  id: GeneratedAlways<number>
  at: Date
  who: string
  portable_yards: number
  nights_set: number
  open_weeks: number
  checking_weeks: number
}

interface DailyRangeWordsTable {
  id: GeneratedAlways<number>
  at: Date
  who: string
  species: Species
  /** Null: the owner's word is taken back. */
  km: number | null
  source: string | null
}

interface OtherWaterWordsTable {
  id: GeneratedAlways<number>
  at: Date
  who: string
  point_id: number
  /** False: the word is taken back. */
  is_sure: boolean
  /** Waters of the station that stay open for stock and wildlife. */
  open_point_ids: readonly number[]
  /** Other water that is no point. */
  elsewhere: string | null
}

interface YardFirstUsedWordsTable {
  id: GeneratedAlways<number>
  at: Date
  who: string
  point_id: number
  species: Species
  /** Null: the owner's date is taken back. */
  first_used: NightDate | null
}

interface YardPlansTable {
  id: GeneratedAlways<number>
  made_at: Date
}

interface YardPlanVersionsTable {
  plan_id: number
  version: number
  at: Date
  who: string
  withdrawn: boolean
  plan: JSONColumnType<KeptYardPlan>
  shown: JSONColumnType<YardPlanFigures>
}

export interface YardPlanTables {
  yard_means: YardMeansTable
  daily_range_words: DailyRangeWordsTable
  other_water_words: OtherWaterWordsTable
  yard_first_used_words: YardFirstUsedWordsTable
  yard_plans: YardPlansTable
  yard_plan_versions: YardPlanVersionsTable
}
