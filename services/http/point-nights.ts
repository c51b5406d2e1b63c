/** The nights of a point as the bars draw them: every night of the range, watched or not. */
import { Refusal } from '../refusal.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { readPointNights } from '../store/visit-views.ts'
import { knownUntil, watchedShare } from '../tally/effort.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import { type Instant, type NightDate, SPECIES } from '../words.ts'
import type { NightOfPoint } from './shapes.ts'

const DEFAULT_NIGHTS = 28
const MAX_NIGHTS = 400
const MS_PER_DAY = 86_400_000

export async function nightsOfPoint(
  ledger: Ledger,
  ask: {
    readonly pointId: number
    readonly from: NightDate | undefined
    readonly to: NightDate | undefined
    readonly settings: Settings
    readonly now: Instant
  },
): Promise<NightOfPoint[]> {
  const { zone, roles } = ask.settings
  const to = ask.to ?? nightOf(ask.now, zone)
  const back = (nightSpell(to, zone).from - (DEFAULT_NIGHTS - 1) * MS_PER_DAY + MS_PER_DAY / 2) as Instant
  const from = ask.from ?? nightOf(back, zone)
  const nights = from <= to ? nightsBetween(from, to) : []
  if (nights.length === 0 || nights.length > MAX_NIGHTS) {
    throw new Refusal({
      kind: 'bad input',
      detail: `from: expected 1 to ${MAX_NIGHTS} nights up to ${to}, got ${from}.`,
      field: 'from',
      remedy: 'Ask for a shorter range, with the earlier night first.',
    })
  }
  const { rows, watchedSeconds, cameras } = await readPointNights(ledger, ask.pointId, {
    from,
    to,
    now: ask.now,
  })
  const known = knownUntil(cameras, ask.now)
  return nights.map((night) => {
    return {
      night,
      watched: watchedShare({
        watchedSeconds: watchedSeconds.get(night) ?? 0,
        night: nightSpell(night, zone),
        knownUntil: known,
      }),
      species: SPECIES.flatMap((species) => {
        const row = rows.find((one) => one.night === night && one.species === species)
        if (row === undefined) return []
        return [
          {
            species,
            role: roles[species],
            visits: row.visits,
            least: row.least,
            sumOfPeaks: row.sum_of_peaks,
          },
        ]
      }),
    }
  })
}
