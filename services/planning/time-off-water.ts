/** How long cattle go without water from the first muster to the trough at the other end: arithmetic, never a promise. */
import type { MusterMeans, YardDays } from './muster-days.ts'

export interface Haul {
  /** From when the first are moved off until the yard is shut behind the last, over 0. */
  readonly musterHours: number
  /** From the end of a day's work to the next morning's, at least 0. */
  readonly nightHours: number
  readonly loadHours: number
  /** Until the last has come to the trough. */
  readonly unloadHours: number
  /** To the other end, and how fast a loaded truck goes, over 0. */
  readonly km: number
  readonly kmAnHour: number
}

export interface HoursOffWater {
  /** Of the first and of the last load, both counted from the first muster. Water in the yard takes nothing off. */
  readonly firstLoad: number
  readonly lastLoad: number
}

const HOURS_A_DAY = 24

/** Null for a point with no load. @throws RangeError for hours below 0, or no speed */
export function hoursOffWater(
  { loads, muster, trucks }: YardDays,
  haul: Haul,
  means: Pick<MusterMeans, 'trucks' | 'loadsADay'>,
): HoursOffWater | null {
  const { musterHours, nightHours, loadHours, unloadHours, km, kmAnHour } = haul
  if (!(Math.min(musterHours, nightHours, loadHours, unloadHours, km) >= 0 && kmAnHour > 0))
    throw new RangeError('hours are no less than 0, and trucks go at some speed')
  if (loads === 0) return null
  const drive = km / kmAnHour
  const firstLoad =
    musterHours +
    // The days of the muster after its first, the night after it, and the days on which trucks are elsewhere.
    (muster.to - muster.from - 1 + trucks.from - muster.to) * HOURS_A_DAY +
    nightHours +
    loadHours +
    drive +
    unloadHours
  const aDay = means.trucks * means.loadsADay
  const days = Math.floor((loads - 1) / aDay)
  const trips = Math.floor(((loads - 1) % aDay) / means.trucks)
  return {
    firstLoad,
    lastLoad: firstLoad + days * HOURS_A_DAY + trips * roundTripHours(haul),
  }
}

/** A truck's hours a load: loaded, there, unloaded and back. */
export const roundTripHours = ({ loadHours, unloadHours, km, kmAnHour }: Haul): number =>
  loadHours + unloadHours + (2 * km) / kmAnHour
