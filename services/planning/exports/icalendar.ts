/** iCalendar (RFC 5545): a program's days for any calendar. Times are in UTC, so no VTIMEZONE is needed (section 3.3.5). */
import type { Instant, NightDate } from '../../words.ts'
import type { Place } from '../distance.ts'
import { latitude, longitude } from './map-things.ts'

/** A day of a program, or hours of one. */
export interface CalendarEvent {
  /** The same whenever the same event is written again, and of no other: calendars go by it (section 3.8.4.7). */
  readonly uid: string
  readonly when:
    | { readonly kind: 'hours'; readonly from: Instant; readonly to: Instant }
    /** Whole days, both included. */
    | { readonly kind: 'days'; readonly from: NightDate; readonly to: NightDate }
  readonly summary: string
  readonly text: string | null
  readonly where: string | null
  readonly place: Place | null
}

const MOST_OCTETS = 75
const DAY_MS = 86_400_000

/**
 * A whole file, with lines folded at 75 octets and ended by CRLF.
 * @throws RangeError for an event that ends before it begins, or a place that is not on Earth
 */
export function iCalendarOf(
  events: readonly CalendarEvent[],
  { name, madeAt }: { readonly name: string; readonly madeAt: Instant },
): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Hooftally//Hooftally//EN',
    // RFC 7986, section 5.1; a reader that does not know it leaves it out.
    `NAME:${text(name)}`,
    ...events.flatMap((event) => linesOf(event, madeAt)),
    'END:VCALENDAR',
  ]
  return lines.map((line) => `${folded(line)}\r\n`).join('')
}

function linesOf(
  { uid, when, summary, text: words, where, place }: CalendarEvent,
  madeAt: Instant,
): string[] {
  if (when.to < when.from || (when.kind === 'hours' && when.to === when.from))
    throw new RangeError(`"${summary}" ends before it begins`)
  return [
    'BEGIN:VEVENT',
    `UID:${text(uid)}`,
    `DTSTAMP:${utc(madeAt)}`,
    ...(when.kind === 'hours'
      ? [`DTSTART:${utc(when.from)}`, `DTEND:${utc(when.to)}`]
      : // The end is the day after the last (section 3.6.1).
        [`DTSTART;VALUE=DATE:${date(when.from)}`, `DTEND;VALUE=DATE:${date(dayAfter(when.to))}`]),
    `SUMMARY:${text(summary)}`,
    ...(words ? [`DESCRIPTION:${text(words)}`] : []),
    ...(where ? [`LOCATION:${text(where)}`] : []),
    ...(place ? [`GEO:${latitude(place.lat)};${longitude(place.lon)}`] : []),
    'END:VEVENT',
  ]
}

/** Form 2 of section 3.3.5: 20261124T083000Z. */
const utc = (at: Instant) => `${new Date(at).toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`
const date = (day: NightDate) => day.replaceAll('-', '')
const dayAfter = (day: NightDate) =>
  new Date(Date.parse(`${day}T00:00:00Z`) + DAY_MS).toISOString().slice(0, 10) as NightDate

/** Section 3.3.11; control characters are no part of a text (section 3.1), and a lone half of a pair is no UTF-8. */
const text = (value: string) =>
  value
    .replace(/\p{Surrogate}/gu, '')
    .replace(/[\\;,]/g, (char) => `\\${char}`)
    .replace(/\r\n|\r|\n/g, '\\n')
    .replace(/(?!\t)\p{Control}/gu, '')

/** Lines of at most 75 octets, each after the first begun by a blank (section 3.1); no character is cut in two. */
function folded(line: string): string {
  const parts: string[] = []
  let part = ''
  let octets = 0
  for (const char of line) {
    const more = Buffer.byteLength(char)
    if (octets + more > MOST_OCTETS) {
      parts.push(part)
      part = ' '
      octets = 1
    }
    part += char
    octets += more
  }
  return [...parts, part].join('\r\n')
}
