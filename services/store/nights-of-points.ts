/** Reads what came to points night by night: what rates over any spell are made of. */
import { nightSpell } from '../tally/nights.ts'
import type { PointNight } from '../tally/spell-totals.ts'
import type { NightDate, Species, Zone } from '../words.ts'
import type { Ledger } from './open.ts'

/** Nights, both included. */
export interface NightSpan {
  readonly from: NightDate
  readonly to: NightDate
}

/** Nights of every point that were watched at all, in no order. */
export async function readWatchedNights(ledger: Ledger, { from, to }: NightSpan) {
  return await ledger
    .selectFrom('effort')
    .select(['point_id', 'night', 'watched_seconds'])
    .where('night', '>=', from)
    .where('night', '<=', to)
    .where('watched_seconds', '>', 0)
    .execute()
}

/** The nights of ONE species at each point, in order of time; nights that were not watched and had no visit are left out. */
export type NightsOfSpecies = (species: Species, pointId: number) => readonly PointNight[]

/** Peaks of visits and watched parts of nights. A running night is reckoned by what was watched of it. */
export async function readPointNights(
  ledger: Ledger,
  asked: NightSpan & { readonly species: readonly Species[]; readonly zone: Zone },
): Promise<NightsOfSpecies> {
  const { from, to, zone } = asked
  const [visits, effort] = await Promise.all([
    ledger
      .selectFrom('visits')
      .select(['point_id', 'species', 'night', 'peak'])
      .where('night', '>=', from)
      .where('night', '<=', to)
      .where('species', 'in', asked.species)
      .execute(),
    readWatchedNights(ledger, { from, to }),
  ])
  const watched = new Map<number, Map<NightDate, number>>()
  for (const { point_id, night, watched_seconds } of effort) {
    const spell = nightSpell(night, zone)
    const part = Math.min(1, (watched_seconds * 1000) / (spell.to - spell.from))
    inside(watched, point_id, () => new Map<NightDate, number>()).set(night, part)
  }
  const peaks = new Map<string, Map<NightDate, number[]>>()
  for (const { point_id, species, night, peak } of visits) {
    const ofPoint = inside(peaks, `${point_id} ${species}`, () => new Map<NightDate, number[]>())
    inside(ofPoint, night, (): number[] => []).push(peak)
  }
  return (species, pointId) => {
    const seen = peaks.get(`${pointId} ${species}`)
    const parts = watched.get(pointId)
    const nights = new Set([...(parts?.keys() ?? []), ...(seen?.keys() ?? [])])
    return [...nights].sort().map((night) => ({
      night,
      watched: parts?.get(night) ?? 0,
      peaks: seen?.get(night) ?? [],
    }))
  }
}

function inside<Key, Value>(map: Map<Key, Value>, key: Key, make: () => Value): Value {
  const there = map.get(key)
  if (there !== undefined) return there
  const made = make()
  map.set(key, made)
  return made
}
