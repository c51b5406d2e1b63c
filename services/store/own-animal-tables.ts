/** The tables of the station's own animals as types, column for column as migration 0010 makes them. */
import type { ColumnType, GeneratedAlways, JSONColumnType } from 'kysely'
import type { CountMarks } from '../learning/counted-as.ts'
import type { Kind } from '../learning/kinds.ts'
import type { Trial } from '../learning/trial.ts'
import type { Species } from '../words.ts'

/** Kinds that the owner tells apart beside the five: a sheep, a dog. Never tallied. */
interface OwnKindsTable {
  id: GeneratedAlways<number>
  name: string
  made_at: Date
}

/** The station's own namers, a row for each asking; the id is the version. */
export interface NamersTable {
  id: GeneratedAlways<number>
  /** Of the models on top of which it learned: it names what these found, and nothing else. */
  detector_sha256: string
  namer_sha256: string
  kinds: JSONColumnType<readonly Kind[]>
  /** Places in `kinds` of those it learned. */
  learned: JSONColumnType<readonly number[]>
  /** Little-endian double-precision numbers, a row a learned kind. */
  weights: Buffer
  ridge: number
  /** Checked crops at the asking; those it learned from are in `namer_crops`. */
  crops: number
  seed: string
  /** Count marks at which it was tried. */
  marks: JSONColumnType<CountMarks>
  trial: JSONColumnType<Omit<Trial, 'verdict'>>
  verdict: Trial['verdict']
  made_at: Date
}

interface NamerCropsTable {
  namer_id: number
  detection_id: number
  still_id: number
  check_id: number
  kind: Kind
}

/** One row: what the owner wants of it. */
interface NamerSettingsTable {
  id: number
  is_on: boolean
  /** A new one that names better is used by itself; else the owner is asked. */
  takes_new: boolean
  in_use: number | null
  /** Species that never come here. */
  absent: ColumnType<readonly Species[], string | undefined, string>
}

export interface OwnAnimalTables {
  own_kinds: OwnKindsTable
  namers: NamersTable
  namer_crops: NamerCropsTable
  namer_settings: NamerSettingsTable
}
