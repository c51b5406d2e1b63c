/** The moon at a place, by a library: the only file that asks it for the moon. */
import { getMoonIllumination, getMoonTimes } from 'suncalc'
import type { Instant, Spell } from '../words.ts'
import type { Place } from './distance.ts'

export const MOON_PHASES = ['new', 'waxing', 'full', 'waning'] as const
export type MoonPhase = (typeof MOON_PHASES)[number]

export interface Moonlight {
  /** Lit part of the disc, 0 to 1. */
  readonly lit: number
  readonly phase: MoonPhase
}

/** A moon is called new or full within about a day and a half of it: a twentieth of the month. */
const NEAR = 0.05

/** How much of the moon is lit at an instant (Meeus 1998, Astronomical Algorithms, chapters 47 and 48, as the library says). */
export function moonlight(at: Instant): Moonlight {
  const { fraction, phase } = getMoonIllumination(new Date(at))
  const fromNew = Math.min(phase, 1 - phase)
  const word = fromNew < NEAR ? 'new' : fromNew > 0.5 - NEAR ? 'full' : phase < 0.5 ? 'waxing' : 'waning'
  return { lit: fraction, phase: word }
}

const DAY_MS = 86_400_000

/** When the moon rises and sets in a spell, in order; in a night noon to noon there may be one of each, or one missing. */
export function moonTimes(
  { from, to }: Spell,
  { lat, lon }: Place,
): { readonly rises: readonly Instant[]; readonly sets: readonly Instant[] } {
  const rises: Instant[] = []
  const sets: Instant[] = []
  // The library answers for whole days of UTC.
  for (let day = Math.floor(from / DAY_MS) * DAY_MS; day < to; day += DAY_MS) {
    const { rise, set } = getMoonTimes(new Date(day), lat, lon)
    if (rise && rise.getTime() >= from && rise.getTime() < to) rises.push(rise.getTime() as Instant)
    if (set && set.getTime() >= from && set.getTime() < to) sets.push(set.getTime() as Instant)
  }
  return { rises, sets }
}
