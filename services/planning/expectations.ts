/** What to expect of ONE species at each point, and the points by it: from visits and effort to the lines of a target list. */
import { clockAngle } from '../tally/clock-angle.ts'
import { dispersionOf } from '../tally/dispersion.ts'
import type { Ratings } from '../tally/load.ts'
import type { Instant, NightDate, Zone } from '../words.ts'
import type { Expectation, KeptTargetList } from './kept-target-list.ts'
import type { Nights } from './program-nights.ts'
import { type TargetEdit, targetList } from './target-list.ts'
import { rankTargets, type Target } from './target-ranking.ts'

export interface SeenAtPoints {
  readonly pointIds: readonly number[]
  /** May reach further back than the nights that the list rests on: how visits vary is told from all of them. */
  readonly visits: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly startedAt: Instant
    readonly peak: number
  }>
  /** Nights that were watched, by their watched part, over 0 to 1. */
  readonly watched: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly share: number
  }>
  readonly lastSeen: ReadonlyMap<number, Instant>
}

export interface Expectations {
  /** Points at which the species was seen in the nights, by the head to expect, most first. */
  readonly ranking: readonly number[]
  at(pointId: number): Expectation
}

const NOBODY_KNOWS: Expectation = {
  head: null,
  nightsSeen: 0,
  nightsWatched: 0,
  largestGroup: 0,
  lastSeenAt: null,
  bestHours: null,
}

export function expectationsOf(
  seen: SeenAtPoints,
  { nights, zone, ratings }: { readonly nights: Nights; readonly zone: Zone; readonly ratings: Ratings },
): Expectations {
  const visits = grouped(seen.visits)
  const watched = grouped(seen.watched)
  const isIn = ({ night }: { readonly night: NightDate }) => night >= nights.from && night <= nights.to
  const targets = rankTargets(
    seen.pointIds.map((pointId) => {
      const here = (visits.get(pointId) ?? []).filter(isIn)
      return {
        pointId,
        nights: nightsOf(here, (watched.get(pointId) ?? []).filter(isIn)),
        angles: here.map(({ startedAt }) => clockAngle(startedAt, zone)),
        lastSeenAt: seen.lastSeen.get(pointId) ?? null,
      }
    }),
    { ratings, dispersion: dispersionOf(nightVisits(seen))?.factor ?? 1 },
  )
  const byPoint = new Map(targets.map((target) => [target.pointId, expectationOf(target)]))
  return {
    ranking: targets.filter(({ largestGroup }) => largestGroup > 0).map(({ pointId }) => pointId),
    at: (pointId) => byPoint.get(pointId) ?? NOBODY_KNOWS,
  }
}

/**
 * The list as it stands: the ranking with all changes over it. A point that stood on the list as it was last kept stays on
 * it when the ranking has lost it: people have planned with it, and take it off themselves.
 */
export function listNow(
  { ranking, at }: Expectations,
  given: {
    readonly nights: Nights
    readonly edits: readonly TargetEdit[]
    readonly lastKept: KeptTargetList | null
  },
): KeptTargetList {
  const whole = rankingWith(ranking, given.lastKept)
  return {
    nights: { from: given.nights.from, to: given.nights.to },
    lines: targetList(whole, given.edits).lines.map((line) => ({ ...line, expected: at(line.pointId) })),
  }
}

/** The ranking, and after it what else stood on the kept list. */
export function rankingWith(ranking: readonly number[], lastKept: KeptTargetList | null): number[] {
  const kept = lastKept?.lines.filter(({ byHand }) => !byHand).map(({ pointId }) => pointId) ?? []
  return [...ranking, ...kept.filter((pointId) => !ranking.includes(pointId))]
}

const expectationOf = ({ pointId: _, ranked: __, ...expected }: Target): Expectation => expected

function grouped<Row extends { readonly pointId: number }>(rows: readonly Row[]): ReadonlyMap<number, Row[]> {
  const groups = new Map<number, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.pointId)
    if (group === undefined) groups.set(row.pointId, [row])
    else group.push(row)
  }
  return groups
}

type Visit = SeenAtPoints['visits'][number]
type Watched = SeenAtPoints['watched'][number]

/** Nights that were watched, and nights with a visit. */
function nightsOf(visits: readonly Visit[], watched: readonly Watched[]) {
  const shares = new Map(watched.map(({ night, share }) => [night, share]))
  const all = new Set([...shares.keys(), ...visits.map(({ night }) => night)])
  return [...all].sort().map((night) => ({
    night,
    watched: shares.get(night) ?? null,
    peaks: visits.filter((visit) => visit.night === night).map(({ peak }) => peak),
  }))
}

function nightVisits({ visits, watched }: SeenAtPoints) {
  const counts = new Map<string, number>()
  for (const { pointId, night } of visits) {
    const key = `${pointId} ${night}`
    counts.set(key, (counts.get(key) ?? 0) + 1)
  }
  return watched.map(({ pointId, night, share }) => ({
    pointId,
    night,
    watched: share,
    visits: counts.get(`${pointId} ${night}`) ?? 0,
  }))
}
