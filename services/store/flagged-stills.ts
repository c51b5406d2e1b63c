/** The flagged stills of a night, as little of each as tells which cards of Photos to check there are. */
import { sql } from 'kysely'
import type { Instant, NightDate } from '../words.ts'
import type { Ledger } from './open.ts'

export interface FlaggedStill {
  readonly id: number
  readonly pointId: number
  readonly at: Instant
  /** Worth a look; false for the night's other stills (plain-stills.ts). */
  readonly flagged: boolean
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
  // Instants come as numbers: of a thousand rows half the time would go into reading their dates.
  const { rows } = await sql<{
    id: number
    point_id: number
    at: number
    feral: boolean
    checked: boolean
  }>`
    select id, point_id, extract(epoch from taken_at)::float8 * 1000 as at, feral, checked
    from stills where flagged and night = ${night} and clock_doubt is null
    order by taken_at desc, id desc limit ${limit}`.execute(ledger)
  return rows.map((row) => ({
    id: row.id,
    pointId: row.point_id,
    at: Math.round(row.at) as Instant,
    flagged: true,
    feral: row.feral,
    checked: row.checked,
  }))
}
