/** How long cattle may stay away from each point, or hang on its water, as learned once a day; and what people said of it. */
import { sql } from 'kysely'
import type { Season } from '../tally/absences.ts'
import type { LearnedLimit } from '../tally/learned-limit.ts'
import { NORMAL_FOR_DAYS, type SaidNormal } from '../tally/silence-limit.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

const DAY_MS = 86_400_000
/** A mob in the heat is news for so long. */
const HEAT_NEWS_MS = DAY_MS

export interface KeptLimit extends LearnedLimit {
  /** Points over which the station's alarms were shared out. */
  readonly points: number
}

export interface StayAtPoint {
  readonly startedAt: Instant
  readonly endedAt: Instant
  readonly peak: number
}

export interface CattleNews {
  away(pointId: number, season: Season): KeptLimit | null
  heatStay(pointId: number, season: Season): (KeptLimit & { readonly leastHead: number }) | null
  said(pointId: number): SaidNormal | null
  /** Visits of the last day of an hour or more. */
  stays(pointId: number): readonly StayAtPoint[]
}

/** Three statements for all these points together. */
export async function readCattleNews(
  ledger: Ledger,
  { pointIds, now }: { readonly pointIds: readonly number[]; readonly now: Instant },
): Promise<CattleNews> {
  const [limits, words, stays] = await Promise.all([
    ledger
      .selectFrom('cattle_limits')
      .selectAll()
      .where('point_id', 'in', [0, ...pointIds])
      .execute(),
    sql<{ point_id: number; at: Date; silent_hours: number }>`
      select distinct on (point_id) point_id, at, silent_hours from normal_words
      where point_id = any(${pointIds}::int[]) and at <= ${toDate(now)}
        and at > ${toDate((now - NORMAL_FOR_DAYS * DAY_MS) as Instant)}
      order by point_id, at desc, id desc`.execute(ledger),
    // The condition of the index visits_long, word for word: of a day's visits hardly any are so long.
    sql<{ point_id: number; started_at: Date; ended_at: Date; peak: number }>`
      select point_id, started_at, ended_at, peak from visits
      where species = 'cattle' and ended_at - started_at >= interval '1 hour' and point_id = any(${pointIds}::int[])
        and started_at > ${toDate((now - 2 * HEAT_NEWS_MS) as Instant)} and started_at <= ${toDate(now)}
        and ended_at > ${toDate((now - HEAT_NEWS_MS) as Instant)}
      order by started_at`.execute(ledger),
  ])
  const byPlace = new Map(limits.map((row) => [`${row.point_id} ${row.season} ${row.kind}`, row]))
  const limit = (pointId: number, season: Season, kind: 'away' | 'heat stay') =>
    byPlace.get(`${pointId} ${season} ${kind}`)
  const said = new Map(words.rows.map((row) => [row.point_id, row]))
  return {
    away: (pointId, season) => {
      const row = limit(pointId, season, 'away')
      return row === undefined ? null : keptLimit(row)
    },
    heatStay: (pointId, season) => {
      const row = limit(pointId, season, 'heat stay')
      return row === undefined ? null : { ...keptLimit(row), leastHead: row.least_head ?? 1 }
    },
    said: (pointId) => {
      const row = said.get(pointId)
      return row === undefined ? null : { at: toInstant(row.at), silentHours: row.silent_hours }
    },
    stays: (pointId) =>
      stays.rows
        .filter((row) => row.point_id === pointId)
        .map((row) => ({
          startedAt: toInstant(row.started_at),
          endedAt: toInstant(row.ended_at),
          peak: row.peak,
        })),
  }
}

interface LimitRow {
  readonly hours: number
  readonly learned_from: LearnedLimit['learnedFrom']
  readonly ended: number
  readonly watched_weeks: number
  readonly points: number
}

const keptLimit = (row: LimitRow): KeptLimit => ({
  hours: row.hours,
  learnedFrom: row.learned_from,
  ended: row.ended,
  watchedWeeks: row.watched_weeks,
  points: row.points,
})

/** Writes "that is normal here" into the log. */
export async function sayNormal(
  ledger: LedgerOrTransaction,
  word: {
    readonly pointId: number
    readonly at: Instant
    readonly who: string
    readonly silentHours: number
    readonly note: string | null
  },
): Promise<void> {
  await ledger
    .insertInto('normal_words')
    .values({
      point_id: word.pointId,
      at: toDate(word.at),
      who: word.who,
      silent_hours: word.silentHours,
      note: word.note,
    })
    .execute()
}
