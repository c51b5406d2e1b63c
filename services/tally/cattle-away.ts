/** What stops an alarm of cattle that are not in, or explains it: words that people said of the point. */
import type { Instant, StateKind } from '../words.ts'

const DAY_MS = 86_400_000
/** Rain fills other water for about so long (common practice, no source). */
export const RAIN_HOLDS_DAYS = 7

export interface SaidOfPoint {
  readonly kind: StateKind
  readonly at: Instant
  readonly source: 'tap' | 'reading'
}

export interface AwayBecause {
  readonly kind: 'water off' | 'spelled' | 'rain' | 'trap set'
  readonly at: Instant
  /** True: cattle are away with good reason, and there is no alarm. False: it may be why, and the alarm stands. */
  readonly stops: boolean
}

const WATER_ON: readonly StateKind[] = ['water good', 'water low', 'water dry']
const TRAP: readonly StateKind[] = ['trap open', 'trap set', 'trap shut down']

/**
 * The word that speaks loudest, or null: water off and a spelled point stand until somebody says otherwise of the water;
 * rain for seven days; a trap that is set may hold cattle back or hold them in. Words after `now` are not yet true.
 */
export function awayBecause(words: readonly SaidOfPoint[], now: Instant): AwayBecause | null {
  const said = words.filter(({ at, source }) => source === 'tap' && at <= now)
  const latest = (kinds: readonly StateKind[]) =>
    said.filter(({ kind }) => kinds.includes(kind)).reduce<SaidOfPoint | null>(later, null)
  for (const kind of ['water off', 'spelled'] as const) {
    const word = latest([kind, ...WATER_ON])
    if (word?.kind === kind) return { kind, at: word.at, stops: true }
  }
  const rain = latest(['rain'])
  if (rain !== null && now - rain.at <= RAIN_HOLDS_DAYS * DAY_MS)
    return { kind: 'rain', at: rain.at, stops: true }
  const trap = latest(TRAP)
  return trap?.kind === 'trap set' ? { kind: 'trap set', at: trap.at, stops: false } : null
}

const later = (a: SaidOfPoint | null, b: SaidOfPoint) => (a === null || b.at >= a.at ? b : a)
