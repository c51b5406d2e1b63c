/** The edge of time: between instants and the station's wall clock. Inside, everything is an instant. */
import { Temporal } from 'temporal-polyfill'
import { Refusal } from './refusal.ts'
import type { Instant, Zone } from './words.ts'

/** What a clock on a wall shows: `month` 1 to 12, `hour` 0 to 23, `second` 0 to 59. */
export interface WallTime {
  readonly year: number
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
  readonly second: number
}

/** `earlier of two`: the hour was lived twice. `skipped`: no clock ever showed it. */
export type WallMeaning = 'only' | 'earlier of two' | 'skipped'

/**
 * An instant as ISO 8601 with the station's offset: `2026-11-25T06:10:00+10:30` (RFC 3339).
 * Whole seconds unless the instant has milliseconds.
 */
export function toStationTime(at: Instant, zone: Zone): string {
  const { offsetMs, words } = offsetAt(at, zone)
  const local = at + offsetMs
  // What a JavaScript date writes otherwise than ISO 8601 with an offset needs: years and offsets of another length.
  if (words === null || local < FIRST_FOUR_DIGIT_YEAR_MS || local >= FIRST_FIVE_DIGIT_YEAR_MS) {
    return Temporal.Instant.fromEpochMilliseconds(at).toString({ timeZone: zone })
  }
  const iso = new Date(local).toISOString()
  return (iso.endsWith('.000Z') ? iso.slice(0, 19) : iso.slice(0, 23).replace(/0+$/, '')) + words
}

const FIRST_FOUR_DIGIT_YEAR_MS = Date.parse('0000-01-01T00:00:00Z')
const FIRST_FIVE_DIGIT_YEAR_MS = Date.parse('+010000-01-01T00:00:00Z')
const MS_PER_MINUTE = 60_000
const MAX_SPELLS = 256

/** A stretch of time in which a zone keeps one offset. */
interface OffsetSpell {
  readonly zone: Zone
  readonly from: number
  readonly to: number
  readonly offsetMs: number
  /** `+10:30`; null where the offset has seconds, as before time zones. */
  readonly words: string | null
}

/** A cache only: a screen shows thousands of times, nearly all of them in one spell, and a zone's rules are slow to ask. */
const spells: OffsetSpell[] = []

function offsetAt(at: Instant, zone: Zone): OffsetSpell {
  const known = spells.find((spell) => at >= spell.from && at < spell.to && spell.zone === zone)
  if (known !== undefined) return known
  const there = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone)
  const offsetMs = there.offsetNanoseconds / 1_000_000
  // The last instant of a spell is looked at from the next one, as `previous` leaves out the instant itself.
  const before = there.add({ milliseconds: 1 }).getTimeZoneTransition('previous')
  const after = there.getTimeZoneTransition('next')
  const spell = {
    zone,
    from: before === null ? Number.NEGATIVE_INFINITY : before.epochMilliseconds,
    to: after === null ? Number.POSITIVE_INFINITY : after.epochMilliseconds,
    offsetMs,
    words: offsetMs % MS_PER_MINUTE === 0 ? there.offset : null,
  }
  if (spells.length >= MAX_SPELLS) spells.length = 0
  spells.push(spell)
  return spell
}

/**
 * The instant an ISO 8601 time with an offset or Z names; anything finer than a millisecond is cut off.
 * @throws Refusal when it is no such time: without an offset nobody can say which instant is meant.
 */
export function parseInstant(iso: string): Instant {
  try {
    return Temporal.Instant.from(iso).epochMilliseconds as Instant
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause
    throw new Refusal({
      kind: 'bad input',
      detail: `Expected a time with its offset from UTC, got "${iso.slice(0, 60)}".`,
      remedy: 'Write it as 2026-11-25T06:10:00+10:30, or in UTC with a Z at the end.',
    })
  }
}

/**
 * The instant a clock without an offset meant. An hour lived twice (clocks put back) is taken as the
 * earlier; an hour that was skipped (clocks put forward) moves forward by the length of the gap, as a
 * clock that was not put forward would have it (RFC 5545, section 3.3.5).
 * @throws RangeError when the calendar has no such day or the day no such time.
 */
export function wallToInstant(wall: WallTime, zone: Zone): { at: Instant; meaning: WallMeaning } {
  const plain = Temporal.PlainDateTime.from({ ...wall }, { overflow: 'reject' })
  const earlier = plain.toZonedDateTime(zone, { disambiguation: 'earlier' })
  const later = plain.toZonedDateTime(zone, { disambiguation: 'later' })
  if (earlier.epochMilliseconds === later.epochMilliseconds) {
    return { at: earlier.epochMilliseconds as Instant, meaning: 'only' }
  }
  // In a gap neither reading shows the wall time asked for; in a repeated hour both do.
  const repeated = earlier.toPlainDateTime().equals(plain)
  return repeated
    ? { at: earlier.epochMilliseconds as Instant, meaning: 'earlier of two' }
    : { at: later.epochMilliseconds as Instant, meaning: 'skipped' }
}

/**
 * The other instant at which the clock on the wall showed the same, where clocks were put back in between; null where there
 * is none.
 */
export function otherMeaning(at: Instant, zone: Zone): Instant | null {
  const plain = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDateTime()
  const meanings = (['earlier', 'later'] as const).map(
    (disambiguation) => plain.toZonedDateTime(zone, { disambiguation }).epochMilliseconds,
  )
  return (meanings.find((one) => one !== at) as Instant | undefined) ?? null
}
