/** Nights: noon to noon, station time, named by the evening's date; so animals that drink at 2 am belong to one night. */
import { wallToInstant } from '../station-time.ts'
import type { Instant, NightDate, Spell, Zone } from '../words.ts'

const DAY_MS = 86_400_000
const NOON_HOUR = 12
/** From this hour, station time, the night to show is the one that has just begun. */
export const EVENING_HOUR = 18
/** About 11 years of noons a zone; a still costs a look in a map, not a look in the zone's rules. */
const MAX_NOONS_PER_ZONE = 4096
const MAX_ZONES = 64

/** Noon of each day, by days since 1970-01-01. A cache only: what it answers depends on its key alone. */
const noonsByZone = new Map<Zone, Map<number, Instant>>()

/** The night an instant belongs to. @throws RangeError outside the years 0 to 9999. */
export function nightOf(at: Instant, zone: Zone): NightDate {
  // No zone is a day away from UTC, so the noon before `at` is that of tomorrow's UTC date or one before it.
  let day = Math.floor(at / DAY_MS) + 1
  while (noonOf(day, zone) > at) day -= 1
  return dateOf(day)
}

/**
 * From noon of the night's date to the next noon: 24 h, 23 h when clocks go forward in it, 25 h when they
 * go back (another length where a zone moves by another step).
 * @throws RangeError when `night` is no date.
 */
export function nightSpell(night: NightDate, zone: Zone): Spell {
  const day = dayOf(night)
  return { from: noonOf(day, zone), to: noonOf(day + 1, zone) }
}

export function nextNight(night: NightDate): NightDate {
  return dateOf(dayOf(night) + 1)
}

export function previousNight(night: NightDate): NightDate {
  return dateOf(dayOf(night) - 1)
}

/** The night so many after it; before it where `nights` is negative. */
export function nightsOn(night: NightDate, nights: number): NightDate {
  return dateOf(dayOf(night) + nights)
}

/** Every night from `from` to `to`, both included, in order; empty when `to` is before `from`. */
export function nightsBetween(from: NightDate, to: NightDate): NightDate[] {
  const first = dayOf(from)
  const length = Math.max(0, dayOf(to) - first + 1)
  return Array.from({ length }, (_, i) => dateOf(first + i))
}

/**
 * The night a person means who looks now. Until 18:00 station time it is the night of yesterday's date:
 * at 06:10 the night that is ending, at 14:00 the night that ended at noon. From 18:00 it is the night of
 * today's date, so far.
 */
export function nightToShow(now: Instant, zone: Zone): NightDate {
  const night = nightOf(now, zone)
  return now >= clockOf(dayOf(night), EVENING_HOUR, zone) ? night : previousNight(night)
}

function noonOf(day: number, zone: Zone): Instant {
  let noons = noonsByZone.get(zone)
  if (noons === undefined) {
    if (noonsByZone.size >= MAX_ZONES) noonsByZone.clear()
    noons = new Map()
    noonsByZone.set(zone, noons)
  }
  let noon = noons.get(day)
  if (noon === undefined) {
    if (noons.size >= MAX_NOONS_PER_ZONE) noons.clear()
    noon = clockOf(day, NOON_HOUR, zone)
    noons.set(day, noon)
  }
  return noon
}

function clockOf(day: number, hour: number, zone: Zone): Instant {
  const date = new Date(day * DAY_MS)
  const wall = { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() }
  return wallToInstant({ ...wall, hour, minute: 0, second: 0 }, zone).at
}

function dayOf(night: NightDate): number {
  const day = /^\d{4}-\d\d-\d\d$/.test(night) ? Date.parse(`${night}T00:00:00Z`) / DAY_MS : Number.NaN
  if (!Number.isInteger(day)) throw new RangeError(`a night is a date such as 2026-11-24, not "${night}"`)
  return day
}

function dateOf(day: number): NightDate {
  const iso = new Date(day * DAY_MS).toISOString()
  if (!/^\d{4}-/.test(iso)) throw new RangeError(`a night's year has four digits, not ${iso.slice(0, 7)}`)
  return iso.slice(0, 10) as NightDate
}
