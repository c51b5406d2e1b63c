/** The tables of jobs as types, column for column as migration 0016 makes them. */
import type { Generated, GeneratedAlways } from 'kysely'
import type { JobWord, Trouble } from '../tally/job-words.ts'

export interface JobsTable {
  /** Made by the sender. */
  id: string
  seq: GeneratedAlways<number>
  point_id: number
  /** The photo that asked for it, if one did. */
  still_id: number | null
  trouble: Trouble
  made_at: Date
  /** SHA-256 of what was sent. */
  said: Buffer
  /** Follows from its words: kept, so that open jobs are found by index. */
  open: Generated<boolean>
}

/** An append-only log. */
export interface JobWordsTable {
  id: string
  seq: GeneratedAlways<number>
  job_id: string
  word: JobWord
  who: string
  /** Whose job it is from now on; null: as it was. */
  person: string | null
  note: string | null
  at: Date
  said: Buffer
}

export interface JobTables {
  jobs: JobsTable
  job_words: JobWordsTable
}
