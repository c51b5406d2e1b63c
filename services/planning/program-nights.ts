/** Which nights a target list rests on: the last weeks before it, and none of the program's own. */
import { nightOf, nightSpell, previousNight } from '../tally/nights.ts'
import type { Instant, NightDate, Zone } from '../words.ts'

/** Four weeks: a camel or a donkey that comes once in some days is then seen more than once (common practice, no source). */
export const NIGHTS_RESTED_ON = 28
const DAY_MS = 86_400_000

export interface Nights {
  readonly from: NightDate
  /** Included. */
  readonly to: NightDate
}

/** So many nights up to the last that is over, and no night from the program's first on. */
export function nightsBefore(
  firstNight: NightDate,
  {
    now,
    zone,
    nights = NIGHTS_RESTED_ON,
  }: { readonly now: Instant; readonly zone: Zone; readonly nights?: number },
): Nights {
  const [to] = [previousNight(nightOf(now, zone)), previousNight(firstNight)].sort() as [NightDate, NightDate]
  // Half a day past the noon: a night has 23 to 25 hours.
  const from = nightOf((nightSpell(to, zone).from - (nights - 1.5) * DAY_MS) as Instant, zone)
  return { from, to }
}
