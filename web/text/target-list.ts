/** A target list in words: what to expect at a point, when, how to get there; for screens, the sheet, maps and calendars. */
import type { TargetLine, TargetListAnswer } from '../../services/http/program-shapes.ts'
import { plural, speciesMany } from './counts.ts'
import { accessFieldWords } from './getting-there.ts'
import { clockOfHours } from './hours.ts'
import { programWords as words } from './programs.ts'
import { age, dayAndClock, dayName } from './times.ts'

type Round = TargetListAnswer['round']

/** `2.4`, `17`: more digits would say more than is known. */
export const told = (value: number): string =>
  value < 10 ? Number(value.toFixed(1)).toString() : value.toFixed(0)

/** `2 to 7 head a night (about 4)`; of none that were seen, how many may still come. */
export function headWords({
  head: expected,
  largestGroup,
}: Pick<TargetLine, 'head' | 'largestGroup'>): string {
  if (expected === null) return 'not watched: nobody can say'
  const { low, rate, high } = expected
  if (largestGroup === 0) return `none seen: up to ${told(high)} head a night may still come`
  if (rate < LEAST_TOLD) return `up to ${told(high)} head a night`
  return `${told(low)} to ${told(high)} head a night (about ${told(rate)})`
}

/** Less is no number to plan with. */
const LEAST_TOLD = 0.1

/** `largest group 6`, or that none was seen. */
export function groupWords({ largestGroup }: Pick<TargetLine, 'largestGroup'>): string {
  return largestGroup === 0 ? 'no group seen' : `largest group seen ${largestGroup}`
}

/** `came on 9 of 28 watched nights` */
export function nightsWords({
  nightsSeen,
  nightsWatched,
}: Pick<TargetLine, 'nightsSeen' | 'nightsWatched'>): string {
  return nightsWatched === 0
    ? 'no night was watched'
    : `came on ${nightsSeen} of ${plural(nightsWatched, 'watched night')}`
}

/** `latest 26, 25 and 20 Nov, 28 Oct` */
export function lastNightsWords({ lastNights }: Pick<TargetLine, 'lastNights'>): string | null {
  if (lastNights.length === 0) return null
  const words = lastNights.map((night, i) => {
    const [, day, month] = dayName(night).split(' ')
    const next = lastNights[i + 1]
    return next?.slice(0, 7) === night.slice(0, 7) ? day : `${day} ${month}`
  })
  return `latest ${words.join(', ')}`
}

/** `half of their visits 20:30 to 01:30` */
export function hoursWords({ bestHours }: Pick<TargetLine, 'bestHours'>): string {
  if (bestHours === null) return 'too few visits to tell their hours'
  return `best hours ${clockOfHours(bestHours.from)} to ${clockOfHours(bestHours.to)} (half of their visits)`
}

export function lastSeenWords({ lastSeenAt }: Pick<TargetLine, 'lastSeenAt'>, now: string): string {
  return lastSeenAt === null
    ? 'never seen here'
    : `last seen ${dayAndClock(lastSeenAt)} (${age(lastSeenAt, now)})`
}

/** `cattle on 24 nights (up to 14), donkeys on 3 (up to 2)`; null: nothing else. */
export function othersWords({ others }: Pick<TargetLine, 'others'>): string | null {
  if (others.length === 0) return null
  return others
    .map(
      ({ species, nights, largest }) =>
        `${speciesMany(species)} on ${plural(nights, 'night')} (up to ${largest})`,
    )
    .join(', ')
}

/** `water for 9 head: 540 L a day` with what else a held animal wants. */
export function bringWords({ bring, hasYard }: Pick<TargetLine, 'bring' | 'hasYard'>): string | null {
  if (bring === null) return null
  const yard = hasYard ? 'yard there' : 'no yard there: panels and gates'
  return `${yard}; for up to ${bring.head} head held: ${bring.litresADay.toLocaleString('en-AU')} L of water a day, shade, feed`
}

/** `by hand`, or its place in the ranking where the list's order is another. */
export function rankWords({ ranked, byHand }: Pick<TargetLine, 'ranked' | 'byHand'>): string {
  if (ranked === null) return words.byHand
  return `${byHand ? `${words.byHand}, ` : ''}number ${ranked} by head`
}

/** How the point is reached, each with its word; empty where nobody has said anything. */
export function accessWords({ access, rainAt }: Pick<TargetLine, 'access' | 'rainAt'>): string[] {
  const { fields } = accessFieldWords
  const said =
    access === null
      ? []
      : (['road', 'gates', 'wetSeason', 'turnaround'] as const).flatMap((field) =>
          access[field] === null ? [] : [`${fields[field]}: ${access[field]}`],
        )
  return rainAt === null ? said : [...said, `Rain here ${dayName(rainAt)}: the track may be soft`]
}

/** `118 km, about 6 h 30 min` */
export function roundWords({ km, hours }: Pick<Round, 'km' | 'hours'>): string {
  return `${Math.round(km)} km, about ${hoursLong(hours)}`
}

export function hoursLong(hours: number): string {
  const minutes = Math.round((hours * 60) / 5) * 5
  const [whole, rest] = [Math.floor(minutes / 60), minutes % 60]
  return [whole > 0 ? `${whole} h` : '', rest > 0 ? `${rest} min` : ''].filter(Boolean).join(' ') || '0 min'
}

/** What is straight in a round, in words; null where the owner has given every leg. */
export function straightWords({ legs }: Pick<Round, 'legs'>): string | null {
  const straight = legs.filter((leg) => leg.straight).length
  if (straight === 0) return null
  return straight === legs.length
    ? 'As the crow flies: tracks are longer.'
    : `${straight} of ${plural(legs.length, 'leg')} as the crow flies: tracks are longer.`
}

/** Kilometres to each point of the list from the place before it. */
export function legWords(round: Round, place: number): string {
  const leg = round.legs[place]
  if (leg === undefined) return ''
  return `${told(leg.km)} km${leg.straight ? ' straight' : ''} from ${place === 0 ? 'the homestead' : 'the point before'}`
}

/** What a change of the list was. */
export function editWords(
  edit: { readonly kind: string; readonly pointId?: number; readonly text?: string } | null,
  nameOf: (pointId: number) => string,
): string {
  if (edit === null) return 'Kept as it stood'
  const name = nameOf(edit.pointId ?? 0)
  if (edit.kind === 'add') return `${name} put on the list`
  if (edit.kind === 'drop') return `${name} taken off`
  if (edit.kind === 'note')
    return edit.text === '' ? `Note at ${name} taken away` : `Note at ${name}: ${edit.text}`
  return 'Put in another order'
}

/** `Camels expected at Kite Bore`, as a heading of the sheet and the exports. */
/** `Camel: 2 to 7 head a night` for a map's pin. */
export function pinWords(line: TargetLine, now: string): string {
  return [
    `${headWords(line)}; ${groupWords(line)}`,
    `${nightsWords(line)}; ${hoursWords(line)}`,
    lastSeenWords(line, now),
    ...(bringWords(line) === null ? [] : [`${words.bring}: ${bringWords(line)}`]),
    ...(othersWords(line) === null ? [] : [`${words.also}: ${othersWords(line)}`]),
    ...accessWords(line),
    ...(line.note === null ? [] : [`${words.note}: ${line.note}`]),
  ].join('\n')
}
