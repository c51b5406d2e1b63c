/** Learns, point by point, how long cattle stay away and how long they hang on water, and keeps it. */
import { setImmediate as otherWork } from 'node:timers/promises'
import { type Absence, absencesOf, type Season, seasonOf } from '../tally/absences.ts'
import { type HeatStay, heatStayLimit, heatStaysOf } from '../tally/heat-stays.ts'
import type { LearnedLimit } from '../tally/learned-limit.ts'
import { nightOf } from '../tally/nights.ts'
import { learnedSilence } from '../tally/silence-limit.ts'
import type { Instant, NightDate, Zone } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import type { CattleLimitsTable } from './pressure-tables.ts'
import { watchedWithin } from './watched.ts'

const DAY_MS = 86_400_000
const HOURS_A_WEEK = 168
/** Two years: each season is in it twice. */
const PAST_DAYS = 730
/** More of the station's say no more, and each point that borrows sorts them. */
const MOST_BORROWED = 20_000
const SEASONS: readonly Season[] = ['hot', 'cool']

interface PointPast {
  readonly pointId: number
  readonly absences: Readonly<Record<Season, readonly Absence[]>>
  readonly stays: Readonly<Record<Season, readonly HeatStay[]>>
  readonly watchedWeeks: Readonly<Record<Season, number>>
  /** The middle peak of a visit here: fewer are no mob. */
  readonly leastHead: number
}

interface Learning {
  readonly zone: Zone
  readonly now: Instant
  /** Asked between points. */
  readonly shouldStop: () => boolean
}

/** Learns anew for all points; gives how many have a limit of their own or the station's. Other work goes on in between. */
export async function learnCattleLimits(ledger: Ledger, learning: Learning): Promise<number | null> {
  const points = await ledger.selectFrom('points').select(['id', 'lat']).orderBy('id').execute()
  const pasts: PointPast[] = []
  for (const point of points) {
    if (learning.shouldStop()) return null
    const past = await pastOf(ledger, point, learning)
    if (past !== null) pasts.push(past)
    await otherWork()
  }
  const rows: CattleLimitsTable[] = []
  for (const season of SEASONS) {
    const station = stationOf(pasts, season)
    for (const past of pasts) {
      if (learning.shouldStop()) return null
      rows.push(...limitsOf(past, { season, station, points: pasts.length }))
      await otherWork()
    }
  }
  await ledger.transaction().execute(async (tx) => {
    await tx.deleteFrom('cattle_limits').execute()
    if (rows.length > 0) await tx.insertInto('cattle_limits').values(rows).execute()
    const at = toDate(learning.now)
    await tx
      .insertInto('cattle_limits_learned')
      .values({ id: 1, at })
      .onConflict((conflict) => conflict.column('id').doUpdateSet({ at }))
      .execute()
  })
  return new Set(rows.map((row) => row.point_id)).size
}

/** When limits were last learned. */
export async function limitsLearnedAt(ledger: Ledger): Promise<Instant | null> {
  const row = await ledger.selectFrom('cattle_limits_learned').select('at').executeTakeFirst()
  return row === undefined ? null : toInstant(row.at)
}

/** Null for a point where cattle have not been seen. */
async function pastOf(
  ledger: Ledger,
  { id, lat }: { readonly id: number; readonly lat: number },
  { zone, now }: Learning,
): Promise<PointPast | null> {
  const from = (now - PAST_DAYS * DAY_MS) as Instant
  const visits = await ledger
    .selectFrom('visits')
    .select(['started_at', 'ended_at', 'peak'])
    .where('point_id', '=', id)
    .where('species', '=', 'cattle')
    .where('started_at', '>=', toDate(from))
    .where('started_at', '<=', toDate(now))
    .orderBy('started_at')
    .execute()
    .then((rows) =>
      rows.map((row) => ({
        startedAt: toInstant(row.started_at),
        endedAt: toInstant(row.ended_at),
        peak: row.peak,
      })),
    )
  if (visits.length === 0) return null
  const [watched, effort] = await Promise.all([
    watchedWithin(ledger, id, { from, to: now }),
    ledger
      .selectFrom('effort')
      .select(['night', 'watched_seconds'])
      .where('point_id', '=', id)
      .where('night', '>=', nightOf(from, zone))
      .execute(),
  ])
  const bySeason = <T extends { readonly from: Instant }>(spells: readonly T[]) => ({
    hot: spells.filter((spell) => seasonOf(nightOf(spell.from, zone), lat) === 'hot'),
    cool: spells.filter((spell) => seasonOf(nightOf(spell.from, zone), lat) === 'cool'),
  })
  const weeks = (season: Season) =>
    effort
      .filter((row) => seasonOf(row.night as NightDate, lat) === season)
      .reduce((sum, row) => sum + row.watched_seconds / 3600 / HOURS_A_WEEK, 0)
  const peaks = visits.map(({ peak }) => peak).sort((a, b) => a - b)
  const leastHead = peaks[Math.floor(peaks.length / 2)]!
  return {
    pointId: id,
    absences: bySeason(absencesOf(visits, watched)),
    stays: bySeason(heatStaysOf(visits, { leastHead, zone })),
    watchedWeeks: { hot: weeks('hot'), cool: weeks('cool') },
    leastHead,
  }
}

interface StationPast {
  readonly absences: readonly Absence[]
  readonly stays: readonly HeatStay[]
  readonly watchedWeeks: number
}

/** The latest of each point, as many of each as make no more than is borrowed. */
function stationOf(pasts: readonly PointPast[], season: Season): StationPast {
  const each = Math.ceil(MOST_BORROWED / Math.max(1, pasts.length))
  return {
    absences: pasts.flatMap((past) => past.absences[season].slice(-each)),
    stays: pasts.flatMap((past) => past.stays[season]),
    watchedWeeks: pasts.reduce((sum, past) => sum + past.watchedWeeks[season], 0),
  }
}

function limitsOf(
  past: PointPast,
  {
    season,
    station,
    points,
  }: { readonly season: Season; readonly station: StationPast; readonly points: number },
): CattleLimitsTable[] {
  const away = learnedSilence({ own: past.absences[season], station: station.absences, points })
  const stay = heatStayLimit({
    own: { stays: past.stays[season], watchedWeeks: past.watchedWeeks[season] },
    station: { stays: station.stays, watchedWeeks: station.watchedWeeks },
    points,
  })
  const row = (kind: CattleLimitsTable['kind'], limit: LearnedLimit | null, leastHead: number | null) =>
    limit === null
      ? []
      : [
          {
            point_id: past.pointId,
            season,
            kind,
            hours: limit.hours,
            learned_from: limit.learnedFrom,
            ended: limit.ended,
            watched_weeks: limit.watchedWeeks,
            points,
            least_head: leastHead,
          },
        ]
  return [...row('away', away, null), ...row('heat stay', stay, past.leastHead)]
}
