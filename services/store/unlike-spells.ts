/** Reads what may make two spells unlike each other, or their counts unfinished: words on points, and photos not read or looked at. */
import { sql } from 'kysely'
import type { Instant, NightDate, Spell, StateKind } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

/** Words that make two spells unlike each other. */
const UNLIKE: readonly StateKind[] = [
  'water dry',
  'water off',
  'spelled',
  'trap open',
  'trap set',
  'trap shut down',
  'rain',
]

export interface UnlikeWord {
  readonly pointId: number
  readonly kind: StateKind
  readonly at: Instant
}

/** What people said of points within a spell, in order of time. */
export async function unlikeWords(ledger: Ledger, { from, to }: Spell): Promise<UnlikeWord[]> {
  const rows = await ledger
    .selectFrom('point_states')
    .select(['point_id', 'kind', 'at'])
    .where('kind', 'in', UNLIKE)
    .where('source', '=', 'tap')
    .where('at', '>=', toDate(from))
    .where('at', '<', toDate(to))
    .orderBy('at')
    .orderBy('id')
    .execute()
  return rows.map(({ point_id, kind, at }) => ({ pointId: point_id, kind, at: toInstant(at) }))
}

export interface UnfinishedPhotos {
  readonly pointId: number
  /** Photos that the models have not read yet. */
  readonly waiting: number
  /** Flagged photos that nobody has looked at. */
  readonly toCheck: number
}

/** Photos of some nights (each span with both ends included) that may still change what was counted, point by point. */
export async function unfinishedPhotos(
  ledger: Ledger,
  spans: ReadonlyArray<{ readonly from: NightDate; readonly to: NightDate }>,
): Promise<UnfinishedPhotos[]> {
  const nights = sql`unnest(${spans.map(({ from }) => from)}::date[], ${spans.map(({ to }) => to)}::date[]) as n (first, last)`
  const { rows } = await sql<UnfinishedPhotos>`
    select point_id as "pointId", sum(waiting)::int as waiting, sum(to_check)::int as "toCheck" from (
      select s.point_id, count(*) as waiting, 0 as to_check from stills s join ${nights} on s.night between n.first and n.last
        where s.state = 'received' group by 1
      union all
      select s.point_id, 0, count(*) from stills s join ${nights} on s.night between n.first and n.last
        where s.flagged and not s.checked and s.clock_doubt is null group by 1) counted
    group by 1 order by 1`.execute(ledger)
  return rows
}
