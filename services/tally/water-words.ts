/** The two words of the water run that a wrong guess makes dangerous: are cattle in, and is there water. */
import type { Instant, Spell, StateKind } from '../words.ts'
import { secondsWithin } from './effort.ts'

const HOUR_MS = 3_600_000
const HOUR_SECONDS = 3600

/** How long a word on water is worth anything. In summer heat a mob does not last much longer dry. */
export const WATER_WORD_HOURS = 48

export type CattleState = 'in' | 'not in' | 'not watched' | 'never seen'

/**
 * Whether cattle are in to water at a point.
 *
 * - `never seen`: no still of them yet.
 * - `in`: seen within the last `limitHours`. Nothing but a sighting makes it `in`.
 * - `not in`: not seen for longer than that, and the point was watched for at least `limitHours` of the
 *   time since: only hours in which they would have been seen speak against them.
 * - `not watched`: not seen for longer than that, but too little of the time since was watched to say so.
 *   A camera with one heartbeat a day may say this for up to a day before `not in`: until it speaks again
 *   nobody knows that it was watching.
 */
export function cattleState(given: {
  readonly lastSeenAt: Instant | null
  readonly now: Instant
  readonly limitHours: number
  /** When any camera of the point was watching; what lies before the last sighting does not matter. */
  readonly watched: readonly Spell[]
}): CattleState {
  const { lastSeenAt, now, limitHours, watched } = given
  if (lastSeenAt === null) return 'never seen'
  if (now - lastSeenAt <= limitHours * HOUR_MS) return 'in'
  const watchedSeconds = secondsWithin(watched, { from: lastSeenAt, to: now })
  return watchedSeconds >= limitHours * HOUR_SECONDS ? 'not in' : 'not watched'
}

/** A dated word on a point; only the four on water matter here, the others may be in the list. */
export interface PointWord {
  readonly id: number
  readonly kind: StateKind
  readonly at: Instant
  readonly source: 'tap' | 'reading'
  /** Per cent of full, from a reading. */
  readonly levelPercent: number | null
}

export interface LevelMarks {
  readonly lowMarkPercent: number
  readonly dryMarkPercent: number
}

export type WaterLevel = 'good' | 'low' | 'dry'

export interface WaterWord {
  readonly state: WaterLevel | 'off' | 'not seen'
  readonly at: Instant | null
  readonly source: 'tap' | 'reading' | null
  readonly levelPercent: number | null
}

const NOT_SEEN: WaterWord = { state: 'not seen', at: null, source: null, levelPercent: null }

/** A level under the dry mark is dry, under the low mark low, on a mark the better of the two. */
export function waterAtLevel(levelPercent: number, marks: LevelMarks): WaterLevel {
  if (levelPercent < marks.dryMarkPercent) return 'dry'
  return levelPercent < marks.lowMarkPercent ? 'low' : 'good'
}

/**
 * What is known of the water now: the latest tap or reading (of one instant the higher id), if it is no
 * older than 48 hours, else `not seen`, which is never the same as good. A reading is judged by the marks
 * as they are now.
 *
 * `off` is the exception on both sides: somebody turned it off, so it stays off until somebody says
 * otherwise. It does not grow old, and a level reading does not lift it: a full tank says nothing of a
 * closed valve.
 *
 * Words dated after `now` are not yet true and are left out.
 */
export function waterState(given: {
  readonly states: readonly PointWord[]
  readonly now: Instant
  readonly marks: LevelMarks
}): WaterWord {
  const words = given.states
    .filter(({ at }) => at <= given.now)
    .sort((a, b) => b.at - a.at || b.id - a.id)
    .flatMap((word) => wordOf(word, given.marks))
  const latestTap = words.find(({ source }) => source === 'tap')
  if (latestTap?.state === 'off') return latestTap
  const latest = words.find(({ state }) => state !== 'off')
  if (latest?.at == null || given.now - latest.at > WATER_WORD_HOURS * HOUR_MS) return NOT_SEEN
  return latest
}

function wordOf(word: PointWord, marks: LevelMarks): WaterWord[] {
  const { at, source, levelPercent } = word
  if (source === 'reading' && levelPercent !== null) {
    return [{ state: waterAtLevel(levelPercent, marks), at, source, levelPercent }]
  }
  const state = WATER_BY_KIND.get(word.kind)
  return state === undefined ? [] : [{ state, at, source, levelPercent }]
}

const WATER_BY_KIND: ReadonlyMap<StateKind, WaterWord['state']> = new Map([
  ['water good', 'good'],
  ['water low', 'low'],
  ['water dry', 'dry'],
  ['water off', 'off'],
])
