/** Visits: stills of one species at one point, from any of its cameras, with no gap longer than the gap. */
import type { Instant } from '../words.ts'

const MINUTE_MS = 60_000

/** A still missed by a timer must not cut a visit in two, so the gap spans more than one interval. */
const GAP_PER_SCHEDULE = 1.5

/** One still on which a species stands, at one point. `head` is its tally; a still with no head is no sighting. */
export interface Sighting {
  readonly stillId: number
  readonly at: Instant
  readonly head: number
  /** The best score of that species on the still, 0 to 1. */
  readonly score: number
}

export interface Visit {
  /** Instant of the first and of the last still; the same for a visit of one still. */
  readonly startedAt: Instant
  readonly endedAt: Instant
  /** The largest head in any one still: the least number that was there. Never a sum over stills. */
  readonly peak: number
  readonly photos: number
  /** Most head, then the best score, then the lowest id. */
  readonly bestStillId: number
}

/** Closed stretch of time: both ends included, because a visit may be a single instant. */
export interface ClosedSpell {
  readonly from: Instant
  readonly to: Instant
}

/**
 * The gap for a point: the owner's gap, but at least one and a half times the interval of a camera that
 * takes stills on a schedule (for several such cameras pass the longest interval; null: all by motion). An owner's
 * gap is usually 30 minutes: O'Brien, Kinnaird & Wibisono 2003, Animal Conservation 6:131-139,
 * doi:10.1017/S1367943003003172.
 */
export function gapFor(gapMinutes: number, scheduleMinutes: number | null): number {
  return scheduleMinutes === null ? gapMinutes : Math.max(gapMinutes, GAP_PER_SCHEDULE * scheduleMinutes)
}

/**
 * The visits in sightings of ONE species at ONE point, in order of time. Two sightings further apart than
 * `gapMinutes` are two visits; exactly as far apart, still one. Order of the input does not matter, and
 * sightings without head are left out.
 */
export function visitsOf(sightings: readonly Sighting[], gapMinutes: number): Visit[] {
  const seen = sightings.filter((sighting) => sighting.head > 0).sort((a, b) => a.at - b.at)
  const visits: Visit[] = []
  let members: Sighting[] = []
  for (const sighting of seen) {
    const last = members.at(-1)
    if (last !== undefined && sighting.at - last.at > gapMinutes * MINUTE_MS) {
      visits.push(visitFrom(members))
      members = []
    }
    members.push(sighting)
  }
  if (members.length > 0) visits.push(visitFrom(members))
  return visits
}

/**
 * What new, changed or withdrawn sightings at `moments` can touch: the hulls of moments and visits that lie within one
 * gap of each other, in order of time; every hull holds a moment. Putting `visitsOf` the sightings in a hull (both ends
 * included) in the place of the visits that lie in it gives the same as a recount from nothing, because every other
 * visit is further than a gap from all of it. A still whose time changes touches two moments: apply its going first,
 * then its coming. A change of the gap itself touches everything.
 */
export function touchedSpells(
  visits: readonly Pick<Visit, 'startedAt' | 'endedAt'>[],
  moments: readonly Instant[],
  gapMinutes: number,
): ClosedSpell[] {
  const gapMs = gapMinutes * MINUTE_MS
  const isNear = ({ startedAt, endedAt }: Pick<Visit, 'startedAt' | 'endedAt'>) =>
    moments.some((at) => startedAt - at <= gapMs && at - endedAt <= gapMs)
  const parts = [
    ...moments.map((at) => ({ from: at, to: at })),
    ...visits.filter(isNear).map(({ startedAt, endedAt }) => ({ from: startedAt, to: endedAt })),
  ].sort((a, b) => a.from - b.from)
  const spells: { from: Instant; to: Instant }[] = []
  for (const { from, to } of parts) {
    const last = spells.at(-1)
    if (last === undefined || from - last.to > gapMs) spells.push({ from, to })
    else if (to > last.to) last.to = to
  }
  return spells
}

function visitFrom(members: readonly Sighting[]): Visit {
  const [first, ...rest] = members
  if (first === undefined) throw new RangeError('a visit has at least one still')
  const best = rest.reduce((a, b) => (isBetter(b, a) ? b : a), first)
  return {
    startedAt: first.at,
    endedAt: members[members.length - 1]?.at ?? first.at,
    peak: best.head,
    photos: members.length,
    bestStillId: best.stillId,
  }
}

function isBetter(a: Sighting, b: Sighting): boolean {
  if (a.head !== b.head) return a.head > b.head
  if (a.score !== b.score) return a.score > b.score
  return a.stillId < b.stillId
}
