/** When species come to a point in the day: curves on the clock and held to the sun, and how far two of them meet. */
import { Refusal } from '../refusal.ts'
import type { Ledger } from '../store/open.ts'
import { findPoint } from '../store/points.ts'
import { readSettings } from '../store/settings.ts'
import { readVisitTimes, type VisitTimes } from '../store/visit-times.ts'
import { FULL_CIRCLE } from '../tally/circular-density.ts'
import { clockAngle } from '../tally/clock-angle.ts'
import { nextNight, nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import { overlapOf } from '../tally/overlap.ts'
import { type SunOfDays, sunOfDays } from '../tally/sun-angles.ts'
import { whenTheyCome } from '../tally/when-they-come.ts'
import type { Instant, NightDate, Species, Zone } from '../words.ts'
import type { WhenTheyComeAnswer } from './pressure-shapes.ts'
import { rounded } from './rounded.ts'

const USUAL_NIGHTS = 56
const MAX_NIGHTS = 400
const DAY_MS = 86_400_000
const HOURS = 24
/** The same nights give the same interval, whoever asks. */
const SEED = 1

export interface WhenAsked {
  readonly pointId: number
  readonly species: Species
  readonly other: Species | undefined
  readonly from: NightDate | undefined
  readonly to: NightDate | undefined
  readonly now: Instant
}

export async function whenTheyComeAt(ledger: Ledger, asked: WhenAsked): Promise<WhenTheyComeAnswer> {
  const [point, settings] = await Promise.all([findPoint(ledger, asked.pointId), readSettings(ledger)])
  const { zone } = settings
  const nights = nightsAsked(asked, zone)
  const [from, to] = [nights[0]!, nights.at(-1)!]
  const { species, other } = asked
  const times = await readVisitTimes(ledger, {
    pointId: point.id,
    species: other === undefined ? [species] : [species, other],
    from,
    to,
  })
  const sun = sunOfDays([...nights, nextNight(to)], { place: point, zone })
  const hours = (angle: number | undefined) =>
    angle === undefined ? null : rounded((angle / FULL_CIRCLE) * HOURS)
  const frame = { times, sun, zone }
  return {
    pointId: point.id,
    pointName: point.name,
    from,
    to,
    nights: { asked: nights.length, watched: times.watchedNights.length },
    sunrise: hours(sun?.mean.sunrise),
    sunset: hours(sun?.mean.sunset),
    species,
    curve: curveOf(species, frame),
    other:
      other === undefined
        ? null
        : { species: other, curve: curveOf(other, frame), overlap: overlapIn([species, other], frame) },
  }
}

function nightsAsked({ from, to, now }: WhenAsked, zone: Zone): NightDate[] {
  const last = to ?? nightOf(now, zone)
  const usual = nightOf((nightSpell(last, zone).from - (USUAL_NIGHTS - 1.5) * DAY_MS) as Instant, zone)
  const first = from ?? usual
  const nights = first <= last ? nightsBetween(first, last) : []
  if (nights.length > 0 && nights.length <= MAX_NIGHTS) return nights
  throw new Refusal({
    kind: 'bad input',
    detail: `from: expected 1 to ${MAX_NIGHTS} nights up to ${last}, got ${first}.`,
    field: 'from',
    remedy: 'Ask for a shorter range, with the earlier night first.',
  })
}

interface Frame {
  readonly times: VisitTimes
  readonly sun: SunOfDays | null
  readonly zone: Zone
}

function curveOf(species: Species, { times, sun, zone }: Frame): WhenTheyComeAnswer['curve'] {
  const at = times.visits.filter((visit) => visit.species === species).map(({ startedAt }) => startedAt)
  const curve = (angles: readonly number[]) => whenTheyCome(angles)?.shareAnHour.map(rounded) ?? null
  return {
    visits: at.length,
    clock: curve(at.map((one) => clockAngle(one, zone))),
    sun: sun === null ? null : curve(at.map((one) => sun.hold(one))),
  }
}

/** Held to the sun where that can be told, so that days that draw in do not look like another habit. */
function overlapIn([species, other]: readonly [Species, Species], { times, sun, zone }: Frame) {
  const angle = (at: Instant) => (sun === null ? clockAngle(at, zone) : sun.hold(at))
  const nights = new Map(
    times.watchedNights.map((night) => [night, { one: [] as number[], other: [] as number[] }]),
  )
  for (const visit of times.visits) {
    const night = nights.get(visit.night)
    if (visit.species === species) night?.one.push(angle(visit.startedAt))
    if (visit.species === other) night?.other.push(angle(visit.startedAt))
  }
  const overlap = overlapOf([...nights.values()], { seed: SEED })
  return (
    overlap && {
      overlap: rounded(overlap.overlap),
      interval: overlap.interval && {
        low: rounded(overlap.interval.low),
        high: rounded(overlap.interval.high),
      },
      nights: overlap.nights,
      visits: [...overlap.visits] as [number, number],
    }
  )
}
