/** No water is closed before other water for stock and wildlife is sure: whose word for that stands, and for which plan. */
import { seasonOf } from '../tally/absences.ts'
import { nightOf } from '../tally/nights.ts'
import type { Instant, Zone } from '../words.ts'

const DAY_MS = 86_400_000
/** After so long the owner is asked again (common practice, no source), and with each hot and cool half-year. */
export const OTHER_WATER_DAYS = 90

/** The latest word on a point: where stock and wildlife drink when its gates are set. */
export interface OtherWaterWord {
  readonly pointId: number
  readonly at: Instant
  readonly who: string
  /** False: taken back. */
  readonly isSure: boolean
  /** Waters of the station that stay open for it. */
  readonly openPointIds: readonly number[]
  /** Other water that is no point of the station; null: none. */
  readonly elsewhere: string | null
}

export const OTHER_WATER_STATES = ['sure', 'not said', 'taken back', 'ask again'] as const
export type OtherWaterState = (typeof OTHER_WATER_STATES)[number]

export interface AskedWhen {
  readonly now: Instant
  readonly zone: Zone
  readonly latitude: number
}

export function otherWaterState(word: OtherWaterWord | undefined, asked: AskedWhen): OtherWaterState {
  if (word === undefined) return 'not said'
  if (!word.isSure) return 'taken back'
  const halfYear = (at: Instant) => seasonOf(nightOf(at, asked.zone), asked.latitude)
  const isOld = asked.now - word.at > OTHER_WATER_DAYS * DAY_MS
  return isOld || halfYear(word.at) !== halfYear(asked.now) ? 'ask again' : 'sure'
}

export const OTHER_WATER_LACKS = [
  'not said',
  'taken back',
  'ask again',
  /** Every water it rests on would be closed too. */
  'closed as well',
  /** Every water it rests on is said to be off or dry. */
  'off or dry',
  /** It is itself the other water of another point. */
  'kept open',
] as const
export type OtherWaterLack = (typeof OTHER_WATER_LACKS)[number]

export interface OtherWaters {
  /** The latest word of each point. */
  readonly words: ReadonlyMap<number, OtherWaterWord>
  /** Points whose water is said to be off or dry. */
  readonly withoutWater: ReadonlySet<number>
  readonly asked: AskedWhen
}

/** What a point lacks before it may be closed together with `set`; null: nothing. */
export function lackAt(pointId: number, set: readonly number[], waters: OtherWaters): OtherWaterLack | null {
  const word = waters.words.get(pointId)
  const state = otherWaterState(word, waters.asked)
  if (state !== 'sure') return state
  if (word!.elsewhere !== null) return null
  const left = word!.openPointIds.filter((id) => id !== pointId && !set.includes(id))
  if (left.length === 0) return 'closed as well'
  return left.every((id) => waters.withoutWater.has(id)) ? 'off or dry' : null
}

/**
 * What a point lacks before it is proposed for closing, whatever else is: a water that a standing word keeps open for
 * another point is not proposed, so no two proposals can take each other's other water.
 */
export function lackForProposal(pointId: number, waters: OtherWaters): OtherWaterLack | null {
  return lackAt(pointId, [], waters) ?? (keptOpenFor(pointId, waters).length > 0 ? 'kept open' : null)
}

/** The points that it is the other water of, by standing words. */
export function keptOpenFor(pointId: number, { words, asked }: OtherWaters): number[] {
  return [...words.values()]
    .filter((word) => word.openPointIds.includes(pointId) && otherWaterState(word, asked) === 'sure')
    .map((word) => word.pointId)
    .sort((a, b) => a - b)
}
