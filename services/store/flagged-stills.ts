/** The flagged stills of a night, as little of each as tells which cards of Photos to check there are. */
import { sql } from 'kysely'
import type { Instant, NightDate } from '../words.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface FlaggedStill {
  readonly id: number
  readonly pointId: number
  readonly at: Instant
  /** A feral species is on it at or over its flag threshold. */
  readonly feral: boolean
  /** Somebody's word stands on it. */
  readonly checked: boolean
}

/** The latest that many of them with a clock that is trusted; their boxes are not read out. */
export async function listFlagged(
  ledger: Ledger,
  { night, limit }: { readonly night: NightDate; readonly limit: number },
): Promise<FlaggedStill[]> {
  // What is flagged and not unsure is feral (services/tally/judge.ts), so only unsure ones have their boxes looked up.
  // A score is told apart from its mark as text, so that 0.35 is 0.35 here as it is in the pure core.
  const { rows } = await sql<{
    id: number
    point_id: number
    taken_at: Date
    feral: boolean
    checked: boolean
  }>`
    select s.id, s.point_id, s.taken_at, s.checked, not s.unsure or exists (
      select from detections d join species_settings f on f.species = d.species and f.role = 'feral'
      where d.still_id = s.id and d.score::text::float8 >= f.flag_threshold
    ) as feral
    from stills s where s.flagged and s.night = ${night} and s.state = 'done' and s.clock_doubt is null
    order by s.taken_at desc, s.id desc limit ${limit}`.execute(ledger)
  return rows.map((row) => ({
    id: row.id,
    pointId: row.point_id,
    at: toInstant(row.taken_at),
    feral: row.feral,
    checked: row.checked,
  }))
}
