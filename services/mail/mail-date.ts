/** The instant that a mail's Date says (RFC 5322, section 3.3, and the older forms of section 4.3). */
import { readWallTime } from '../intake/wall-time.ts'
import type { Instant } from '../words.ts'

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const DATE =
  /^(?:[a-z]{3}\s*,\s*)?(\d{1,2})\s+([a-z]{3})\s+(\d{2}|\d{4})\s+(\d{1,2})\s*:\s*(\d{2})(?:\s*:\s*(\d{2}))?\s+([+-]\d{4}|[a-z]{1,5})$/i
/** Hours from UTC; every other name of letters says nothing and is taken as UTC, as section 4.3 asks. */
const NAMED_HOURS: Readonly<Record<string, number>> = {
  edt: -4,
  est: -5,
  cdt: -5,
  cst: -6,
  mdt: -6,
  mst: -7,
  pdt: -7,
  pst: -8,
}
const MOST_OFFSET_MINUTES = 14 * 60

/** Null where it is none: without a zone a time of day is nobody's. */
export function mailDate(written: string): Instant | null {
  const plain = written
    .replaceAll(/\([^()]*\)/g, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim()
  const found = DATE.exec(plain)
  if (found === null) return null
  const [, day = '', monthName = '', yearDigits = '', hour = '', minute = '', second = '0', zone = ''] = found
  const month = MONTHS.indexOf(monthName.toLowerCase()) + 1
  const offset = offsetMinutes(zone)
  const wall = readWallTime([wholeYear(yearDigits), String(month), day, hour, minute, second])
  if (wall === null || offset === null) return null
  const at = Date.UTC(wall.year, wall.month - 1, wall.day, wall.hour, wall.minute, wall.second)
  return (at - offset * 60_000) as Instant
}

/** Two digits under 50 are of this century (section 4.3). */
function wholeYear(digits: string): string {
  if (digits.length === 4) return digits
  return String(Number(digits) + (Number(digits) < 50 ? 2000 : 1900))
}

function offsetMinutes(zone: string): number | null {
  if (!/^[+-]/.test(zone)) return (NAMED_HOURS[zone.toLowerCase()] ?? 0) * 60
  const minutes = Number(zone.slice(1, 3)) * 60 + Number(zone.slice(3))
  if (Number(zone.slice(3)) > 59 || minutes > MOST_OFFSET_MINUTES) return null
  return zone.startsWith('-') ? -minutes : minutes
}
