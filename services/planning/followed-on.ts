/** Do the same animals go from one water to another? What sightings at two watched points that follow each other can say. */
import { LEAST_NIGHTS } from '../tally/night-bootstrap.ts'
import { nightOf, nightSpell } from '../tally/nights.ts'
import type { Instant, NightDate, Zone } from '../words.ts'

const HOUR_MS = 3_600_000
const DAY_MS = 86_400_000
/** One-sided: of twenty pairs that share nothing one passes by chance. It is shown, and decides nothing. */
const RARE = 0.05

/** One species at one point. */
export interface WatchedPoint {
  readonly visits: ReadonlyArray<{ readonly startedAt: Instant; readonly endedAt: Instant }>
  /** The nights that were watched whole, or as good as whole. */
  readonly watchedNights: readonly NightDate[]
}

export type FollowWord = 'seen to move' | 'no more than by chance' | 'too few nights'

export interface FollowedOn {
  readonly says: FollowWord
  /** Times that they came to one, where none had come, within hours of being at the other, where none came any more. */
  readonly moves: number
  /** So many on the average when one point's nights are shifted against the other's; null with too few nights. */
  readonly byChance: number | null
  /** The part of all shifts, the true one among them, with as many moves or more. */
  readonly p: number | null
  /** Nights on which both were watched: nothing else is looked at. */
  readonly nights: number
}

export interface FollowHours {
  /** No animal gets from one to the other in less. */
  readonly least: number
  /** Later it is another drink of other animals; for so long nothing came before to the one, and nothing after to the other. */
  readonly most: number
}

/**
 * Moves between two points, against what chance gives: one point's nights are shifted whole against the other's, all round,
 * so hours of the day and runs of busy nights stay as they are (rotation test; from memory). Under 28 nights: too few.
 */
export function followedOn(
  one: WatchedPoint,
  other: WatchedPoint,
  { hours, zone }: { readonly hours: FollowHours; readonly zone: Zone },
): FollowedOn {
  const others = new Set(other.watchedNights)
  const nights = [...new Set(one.watchedNights)].filter((night) => others.has(night)).sort()
  const days = nights.map((night) => Date.parse(`${night}T00:00:00Z`) / DAY_MS)
  const [here, there] = [one, other].map((point) => onNights(point, nights, zone))
  const movesAt = (shift: number) =>
    movesOf(at(here!, { days, shift: 0, point: 0 }), at(there!, { days, shift, point: 1 }), hours)
  const moves = movesAt(0)
  if (nights.length < LEAST_NIGHTS)
    return { says: 'too few nights', moves, byChance: null, p: null, nights: nights.length }
  const shifted = nights.map((_, shift) => movesAt(shift))
  const p = shifted.filter((count) => count >= moves).length / nights.length
  return {
    says: p <= RARE ? 'seen to move' : 'no more than by chance',
    moves,
    byChance: shifted.slice(1).reduce((sum, count) => sum + count, 0) / (nights.length - 1),
    p,
    nights: nights.length,
  }
}

/** A visit as a place in the list of nights, and hours since that night's noon. */
interface Placed {
  readonly slot: number
  readonly from: number
  readonly to: number
}

function onNights({ visits }: WatchedPoint, nights: readonly NightDate[], zone: Zone): Placed[] {
  const slots = new Map(nights.map((night, slot) => [night, slot]))
  return visits.flatMap(({ startedAt, endedAt }) => {
    const night = nightOf(startedAt, zone)
    const slot = slots.get(night)
    if (slot === undefined) return []
    const noon = nightSpell(night, zone).from
    return [{ slot, from: (startedAt - noon) / HOUR_MS, to: (endedAt - noon) / HOUR_MS }]
  })
}

interface Timed {
  readonly point: number
  readonly from: number
  readonly to: number
}

/** Hours on one line: nights keep their distance in days, so nothing follows over nights that were not watched. */
function at(
  visits: readonly Placed[],
  {
    days,
    shift,
    point,
  }: { readonly days: readonly number[]; readonly shift: number; readonly point: number },
): Timed[] {
  return visits.map(({ slot, from, to }) => {
    const noon = days[(slot + shift) % days.length]! * 24
    return { point, from: noon + from, to: noon + to }
  })
}

function movesOf(here: readonly Timed[], there: readonly Timed[], { least, most }: FollowHours): number {
  const inOrder = [...here, ...there].sort((a, b) => a.from - b.from || a.point - b.point)
  /** Is there a visit at the point in the hours on that side of visit i? */
  const visited = (i: number, point: number, side: -1 | 1) => {
    for (let j = i + side; inOrder[j] && Math.abs(inOrder[j]!.from - inOrder[i]!.from) <= most; j += side)
      if (inOrder[j]!.point === point) return true
    return false
  }
  return inOrder.filter((visit, i) => {
    const before = inOrder[i - 1]
    if (before === undefined || before.point === visit.point) return false
    const between = visit.from - before.to
    if (between < least || between > most) return false
    return !visited(i, visit.point, -1) && !visited(i, before.point, 1)
  }).length
}
