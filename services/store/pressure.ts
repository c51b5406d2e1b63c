/** Reads what a week's grazing pressure is worked out from: kept night rows, effort and visits, summed in the database. */
import { sql } from 'kysely'
import type { Instant, NightDate, Species } from '../words.ts'
import { toInstant } from './instants.ts'
import { heardUpTo } from './last-contact.ts'
import type { Ledger } from './open.ts'
import { type UnlikeWord, unlikeWords } from './unlike-spells.ts'

/** A night of the weeks asked for: its length, and how many weeks before the one shown its week is. */
export interface NightAsked {
  readonly night: NightDate
  readonly seconds: number
  readonly weeksBack: number
}

export interface PressureFacts {
  /** In run order. */
  readonly points: ReadonlyArray<{
    readonly id: number
    readonly name: string
    readonly lat: number
    readonly lon: number
  }>
  /** Of each week, one that was not watched at all is absent. */
  readonly watched: ReadonlyArray<{
    readonly pointId: number
    readonly weeksBack: number
    readonly nights: number
    readonly watchedNights: number
  }>
  readonly visits: ReadonlyArray<{
    readonly pointId: number
    readonly species: Species
    readonly weeksBack: number
    readonly visits: number
    readonly visitsNotWatched: number
    readonly animalVisits: number
    /** Sum over watched nights of the square of the visits over the watched part. */
    readonly squares: number
  }>
  /** Of the week shown. */
  readonly peaks: ReadonlyArray<{
    readonly pointId: number
    readonly species: Species
    readonly squaredPeaks: number
    /** In nights that were watched. */
    readonly largestPeak: number
    readonly largest: number
    readonly firstAt: Instant
    readonly lastAt: Instant
  }>
  readonly nights: ReadonlyArray<{
    readonly pointId: number
    readonly species: Species
    readonly night: NightDate
    readonly visits: number
    readonly least: number
  }>
  readonly effort: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly watchedSeconds: number
  }>
  /** Flagged photos of the week shown that nobody has looked at. */
  readonly toCheck: ReadonlyMap<number, number>
  /** Photos that the models have not read yet, of the week shown (0) and of each of those before it. */
  readonly waiting: ReadonlyArray<{
    readonly pointId: number
    readonly weeksBack: number
    readonly photos: number
  }>
  /** The cameras that stand at the points now. */
  readonly cameras: ReadonlyArray<{
    readonly pointId: number
    readonly lastContactAt: Instant | null
    readonly expectedSilenceHours: number
  }>
  /** Words that make two spells unlike each other, in order of time. */
  readonly states: readonly UnlikeWord[]
}

/** @throws RangeError without a night of the week shown (`weeksBack` 0) */
export async function readPressureFacts(
  ledger: Ledger,
  {
    asked,
    now,
    states,
  }: {
    readonly asked: readonly NightAsked[]
    readonly now: Instant
    /** Words on points are read of this spell. */
    readonly states: { readonly from: Instant; readonly to: Instant }
  },
): Promise<PressureFacts> {
  const shown = asked.filter(({ weeksBack }) => weeksBack === 0).map(({ night }) => night)
  const [first, last] = [shown[0], shown.at(-1)]
  const [oldest] = asked.map(({ night }) => night).sort()
  if (first === undefined || last === undefined) throw new RangeError('no night of the week shown')
  const nights = sql`unnest(${asked.map(({ night }) => night)}::date[], ${asked.map(({ seconds }) => seconds)}::float8[],
    ${asked.map(({ weeksBack }) => weeksBack)}::int[]) as n (night, seconds, weeks_back)`
  const inSpell = (of: string) => sql`${sql.ref(of)} between ${oldest} and ${last}`
  const inWeek = (of: string) => sql`${sql.ref(of)} between ${first} and ${last}`
  const [points, watched, visits, peaks, nightRows, effort, toCheck, waiting, cameras, words] =
    await Promise.all([
      ledger
        .selectFrom('points')
        .select(['id', 'name', 'lat', 'lon'])
        .orderBy('run_order')
        .orderBy('id')
        .execute(),
      sql<PressureFacts['watched'][number]>`
        select e.point_id as "pointId", n.weeks_back as "weeksBack", count(*)::int as nights,
          sum(e.watched_seconds / n.seconds) as "watchedNights"
        from effort e join ${nights} on n.night = e.night
        where ${inSpell('e.night')} and e.watched_seconds > 0 group by 1, 2`.execute(ledger),
      sql<PressureFacts['visits'][number]>`
        select t.point_id as "pointId", t.species, n.weeks_back as "weeksBack",
          coalesce(sum(t.visits) filter (where e.watched_seconds > 0), 0)::int as visits,
          coalesce(sum(t.visits) filter (where e.watched_seconds is null or e.watched_seconds <= 0), 0)::int as "visitsNotWatched",
          coalesce(sum(t.sum_of_peaks) filter (where e.watched_seconds > 0), 0)::int as "animalVisits",
          coalesce(sum(t.visits::float8 * t.visits * n.seconds / e.watched_seconds)
            filter (where e.watched_seconds > 0), 0) as squares
        from nights t join ${nights} on n.night = t.night
        left join effort e on e.point_id = t.point_id and e.night = t.night and ${inSpell('e.night')}
        where ${inSpell('t.night')} group by 1, 2, 3 order by 1, 2, 3`.execute(ledger),
      sql<{
        point_id: number
        species: Species
        squares: number
        largest_watched: number
        largest: number
        first_at: Date
        last_at: Date
      }>`
        select v.point_id, v.species,
          coalesce(sum(v.peak * v.peak) filter (where e.watched_seconds > 0), 0)::int as squares,
          coalesce(max(v.peak) filter (where e.watched_seconds > 0), 0) as largest_watched,
          max(v.peak) as largest, min(v.started_at) as first_at, max(v.ended_at) as last_at
        from visits v left join effort e on e.point_id = v.point_id and e.night = v.night and ${inWeek('e.night')}
        where ${inWeek('v.night')} group by 1, 2`.execute(ledger),
      sql<PressureFacts['nights'][number]>`
        select point_id as "pointId", species, night, visits, least from nights where ${inWeek('night')}`.execute(
        ledger,
      ),
      sql<PressureFacts['effort'][number]>`
        select point_id as "pointId", night, watched_seconds as "watchedSeconds" from effort where ${inWeek('night')}`.execute(
        ledger,
      ),
      sql<{ point_id: number; photos: number }>`
        select point_id, count(*)::int as photos from stills
        where flagged and not checked and clock_doubt is null and ${inWeek('night')} group by 1`.execute(
        ledger,
      ),
      sql<PressureFacts['waiting'][number]>`
        select s.point_id as "pointId", n.weeks_back as "weeksBack", count(*)::int as photos
        from stills s join ${nights} on n.night = s.night
        where s.state = 'received' and ${inSpell('s.night')} group by 1, 2`.execute(ledger),
      ledger
        .selectFrom('cameras')
        .select(['id', 'point_id', 'last_contact_at', 'expected_silence_hours'])
        .where('is_up', '=', true)
        .execute()
        .then((rows) => heardUpTo(ledger, rows, now)),
      unlikeWords(ledger, states),
    ])
  return {
    points,
    watched: watched.rows,
    visits: visits.rows,
    peaks: peaks.rows.map((row) => ({
      pointId: row.point_id,
      species: row.species,
      squaredPeaks: row.squares,
      largestPeak: row.largest_watched,
      largest: row.largest,
      firstAt: toInstant(row.first_at),
      lastAt: toInstant(row.last_at),
    })),
    nights: nightRows.rows,
    effort: effort.rows,
    toCheck: new Map(toCheck.rows.map((row) => [row.point_id, row.photos])),
    waiting: waiting.rows,
    cameras: cameras.map((row) => ({
      pointId: row.point_id,
      lastContactAt: row.last_contact_at && toInstant(row.last_contact_at),
      expectedSilenceHours: row.expected_silence_hours,
    })),
    states: words,
  }
}
