/** What the namer said of each box of some stills: which of them would teach most is worked out from it. */
import { sql } from 'kysely'
import type { Species } from '../words.ts'
import type { Ledger } from './open.ts'

export interface NamedBox {
  readonly stillId: number
  readonly species: Species
  /** Pooled, 0 to 1. */
  readonly score: number
  /** The namer's six scores, or the detector's where it is alone. */
  readonly scores: readonly number[]
}

export async function listNamedBoxes(ledger: Ledger, stillIds: readonly number[]): Promise<NamedBox[]> {
  const { rows } = await sql<NamedBox>`
    select still_id as "stillId", species, score::text::float8 as score, coalesce(namer, detector) as scores
    from detections where still_id = any(${[...stillIds]}::bigint[])`.execute(ledger)
  return rows
}
