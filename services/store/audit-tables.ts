/** The tables of the blind looks as types, column for column as migration 0009 makes them. */
import type { GeneratedAlways, JSONColumnType } from 'kysely'
import type { Light } from '../tally/light.ts'
import type { LookCounts, LookSide } from '../tally/looks.ts'
import type { NightDate, Role, Species, ThresholdsBySpecies } from '../words.ts'

/** Marks and roles as they were at the draw. */
export interface MarksAtDraw {
  readonly thresholds: ThresholdsBySpecies
  readonly roles: Readonly<Record<Species, Role>>
}

/** One row: how many looks are drawn a week on each side. */
interface AuditSettingsTable {
  id: number
  looks_a_week: number
}

interface AuditsTable {
  id: GeneratedAlways<number>
  week_from: NightDate
  week_to: NightDate
  drawn_at: Date
  seed: string
  looks_a_week: number
  marks: JSONColumnType<MarksAtDraw>
  /** Looks of which a photo had been let go. */
  could_not_be_drawn: number
}

interface AuditStrataTable {
  audit_id: number
  side: LookSide
  stratum: string
  /** Flagged: what the machine took it for. */
  species: Species | 'none'
  camera_id: number
  point_id: number
  light: Light
  looks: number
}

interface AuditLooksTable {
  id: GeneratedAlways<number>
  audit_id: number
  side: LookSide
  stratum: string
  species: Species | null
  camera_id: number
  point_id: number
  light: Light
  model_id: number | null
  score: number
  /** Of being drawn, over 0 to 1. */
  chance: number
  /** In which order the looks of a week are asked for. */
  place: number
  /** Between two visits, at the draw. */
  gap_minutes: number
  /** What the machine counted in it at the draw. */
  machine: JSONColumnType<LookCounts>
}

interface AuditStillsTable {
  look_id: number
  still_id: number
}

interface AuditWordsTable {
  look_id: number
  check_id: number
}

interface AuditKnownTable {
  audit_id: number
  side: LookSide
  /** `any`: of the feral species. */
  species: Species | 'any'
  camera_id: number
  light: Light
  looks: number
  /** Flagged: truly the species. Not flagged: the species was there and not counted. */
  hits: number
}

interface AuditCountsTable {
  audit_id: number
  point_id: number
  species: Species
  visits: number
  head: number
  /** What stood at the draw less what the machine counted; may be under 0. */
  known_visits: number
  known_head: number
}

export interface AuditTables {
  audit_settings: AuditSettingsTable
  audits: AuditsTable
  audit_strata: AuditStrataTable
  audit_looks: AuditLooksTable
  audit_stills: AuditStillsTable
  audit_words: AuditWordsTable
  audit_known: AuditKnownTable
  audit_counts: AuditCountsTable
}
