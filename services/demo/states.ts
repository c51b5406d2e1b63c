/** What was said of the demo's waters and traps: taps on the morning's run, a level reading, a trap's history. */
import type { Instant, StateKind } from '../words.ts'
import { clockOn, type DemoPeriod, demoDays, demoSpell } from './days.ts'
import { demoPoints } from './station.ts'

export interface DemoState {
  readonly pointKey: string
  readonly kind: StateKind
  readonly at: Instant
  readonly source: 'tap' | 'reading'
  readonly levelPercent: number | null
  readonly note: string | null
}

/** Nobody has looked at these lately: their water is "not seen". */
const NOT_SEEN = new Set(['ironbark-dam', 'windlass-well'])
/** Per cent at each reading, newest first: a tank that drops faster than cattle drink. */
const LEVELS: Readonly<Record<string, readonly number[]>> = {
  'lantern-bore': [31, 38, 47, 55, 62, 68, 71],
  'snakewood-bore': [84, 86, 83, 88, 85, 87, 84],
}
/** The mark a new point gets at the points' door. */
const LOW_MARK_PERCENT = 40
const RUN_EVERY_DAYS = 2
const RUN_FIRST_HOUR = 7
const RUN_MINUTES_APART = 25
/** The morning's run is done in the last weeks only; older taps tell nobody anything. */
const RUN_FOR_DAYS = 14
const READING_HOUR = 4

/** The trap of the finished camel program, and the one that camels are now let walk in and out of. */
const TRAPS = [
  { pointKey: 'stony-turkey-nest', kind: 'trap open', daysAgo: 47, note: 'portable panels, gates tied back' },
  { pointKey: 'stony-turkey-nest', kind: 'trap set', daysAgo: 38, note: 'camel program' },
  {
    pointKey: 'stony-turkey-nest',
    kind: 'trap shut down',
    daysAgo: 35,
    note: 'camel program done, panels out',
  },
  { pointKey: 'kite-bore', kind: 'trap open', daysAgo: 9, note: 'gates tied back so that camels walk in' },
] as const

const WITHOUT_LEVEL = { source: 'tap', levelPercent: null } as const

/** Every state of the period, newest first, none after `now`. */
export function demoStates(period: DemoPeriod): readonly DemoState[] {
  const { from, to } = demoSpell(period)
  return [...taps(period), ...readings(period), ...traps(period)]
    .filter(({ at }) => at >= from && at <= to)
    .sort((a, b) => b.at - a.at || a.pointKey.localeCompare(b.pointKey))
}

function taps(period: DemoPeriod): DemoState[] {
  const looked = demoPoints.filter(({ key }) => LEVELS[key] === undefined && !NOT_SEEN.has(key))
  return looked.flatMap(({ key, runOrder }) => {
    const looks = demoDays(period)
      .map(({ date }) => clockOn(date, RUN_FIRST_HOUR, runOrder * RUN_MINUTES_APART))
      .filter((at) => at <= period.now)
    // The latest look is within the last day whatever the hour now; before it every second morning.
    return looks
      .slice(0, RUN_FOR_DAYS)
      .filter((_, index) => index % RUN_EVERY_DAYS === 0)
      .map((at): DemoState => ({ ...WITHOUT_LEVEL, pointKey: key, kind: 'water good', at, note: null }))
  })
}

function readings(period: DemoPeriod): DemoState[] {
  const days = demoDays(period)
  return Object.entries(LEVELS).flatMap(([pointKey, levels]) => {
    const readAt = days.map(({ date }) => clockOn(date, READING_HOUR)).filter((at) => at <= period.now)
    return levels.flatMap((levelPercent, index): DemoState[] => {
      const at = readAt[index]
      const kind = levelPercent < LOW_MARK_PERCENT ? 'water low' : 'water good'
      return at === undefined ? [] : [{ pointKey, kind, at, source: 'reading', levelPercent, note: null }]
    })
  })
}

function traps(period: DemoPeriod): DemoState[] {
  const days = demoDays(period)
  return TRAPS.flatMap(({ daysAgo, ...trap }): DemoState[] => {
    const day = days[daysAgo]
    return day === undefined ? [] : [{ ...WITHOUT_LEVEL, ...trap, at: clockOn(day.date, 10) }]
  })
}
