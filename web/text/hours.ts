/** When animals come, in words. */
import type { WhenTheyComeAnswer } from '../../services/http/pressure-shapes.ts'
import { plural, speciesMany } from './counts.ts'

const MINUTES = 60

type Curve = WhenTheyComeAnswer['curve']
export type HoursAs = 'clock' | 'sun'

/** `21:40` of hours since midnight. */
export function clockOfHours(hours: number): string {
  const minutes = Math.round(hours * MINUTES) % (24 * MINUTES)
  return `${String(Math.floor(minutes / MINUTES)).padStart(2, '0')}:${String(minutes % MINUTES).padStart(2, '0')}`
}

/** `Camels come most around 21:40: 62 visits.`, or why nothing is shown. */
export function curveWords(species: WhenTheyComeAnswer['species'], curve: Curve, as: HoursAs): string {
  const many = speciesMany(species)
  const name = many.slice(0, 1).toUpperCase() + many.slice(1)
  const shares = curve[as]
  if (shares === null)
    return `${name}: ${plural(curve.visits, 'visit')}, too few to show hours (ten are needed).`
  const top = shares.indexOf(Math.max(...shares))
  return `${name} come most around ${clockOfHours((top * 24) / shares.length)}: ${plural(curve.visits, 'visit')}.`
}

/** `Both come at the same hours for 0.23 of the time ...`; null where it can't be told. */
export function overlapWords({ species, other }: WhenTheyComeAnswer): string | null {
  if (other === null || other.overlap === null) return null
  const { overlap, interval, nights } = other.overlap
  const range =
    interval === null
      ? '; too few nights for its range'
      : ` (${percent(interval.low)} to ${percent(interval.high)})`
  return `The hours of ${speciesMany(species)} and ${speciesMany(other.species)} overlap by ${percent(overlap)}${range}, from ${plural(nights, 'watched night')}. 100 %: the same hours; 0 %: one is gone when the other comes.`
}

export function behindWords({ nights, sunrise, sunset }: WhenTheyComeAnswer): string {
  const sun =
    sunrise === null || sunset === null
      ? ''
      : ` Sunrise about ${clockOfHours(sunrise)}, sunset about ${clockOfHours(sunset)}.`
  return `${nights.watched} of ${plural(nights.asked, 'night')} watched.${sun}`
}

const percent = (share: number) => `${Math.round(share * 100)} %`
