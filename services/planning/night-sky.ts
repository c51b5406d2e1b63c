/** What light a night has at a point: sunset, sunrise, and the moon. */
import { nextNight, nightSpell } from '../tally/nights.ts'
import { riseAndSet } from '../tally/sun.ts'
import type { Instant, NightDate, Zone } from '../words.ts'
import type { Place } from './distance.ts'
import { type Moonlight, moonlight, moonTimes } from './moon.ts'

const HALF_DAY_MS = 43_200_000

export interface NightSky extends Moonlight {
  /** The evening's, and the next morning's; null where the sun does not set or rise. */
  readonly sunset: Instant | null
  readonly sunrise: Instant | null
  /** Null: it does not between noon and noon. */
  readonly moonrise: Instant | null
  readonly moonset: Instant | null
}

/** The moon's light is that of twelve hours after the night's noon. */
export function nightSky(night: NightDate, place: Place, zone: Zone): NightSky {
  const spell = nightSpell(night, zone)
  const { rises, sets } = moonTimes(spell, place)
  return {
    ...moonlight((spell.from + HALF_DAY_MS) as Instant),
    sunset: riseAndSet(spell.from, place)?.sunset ?? null,
    sunrise: riseAndSet(nightSpell(nextNight(night), zone).from, place)?.sunrise ?? null,
    moonrise: rises[0] ?? null,
    moonset: sets[0] ?? null,
  }
}
