/** Counts from a notebook, summed for ONE species at ONE point: kept apart from what is counted from photos. */
import type { NightDate } from '../words.ts'

export interface NotebookNight {
  readonly night: NightDate
  /** The most seen at once; 0: somebody looked and saw none. */
  readonly head: number
  /** How often some came; null: not written down. */
  readonly visits: number | null
  /** Part of the night that somebody watched, 0 to 1; null: not written down. */
  readonly watched: number | null
}

export interface NotebookSpell {
  /** Nights in the notebook. */
  readonly nights: number
  /** On which some were seen. */
  readonly nightsSeen: number
  /** The most seen at once in any of them. */
  readonly most: number
  /** Mean of the nights' most at once; null where no night was watched for half or more. */
  readonly headANight: number | null
  /** Nights that `headANight` is the mean of: those watched for half or more, or without a word on it. */
  readonly headNights: number
  /** Of the nights that tell both visits and watching; null where none does. */
  readonly visits: number | null
  /** Nights' worth of watching behind `visits`. */
  readonly watchedNights: number | null
}

/** A night watched for less says little of the most that was there (common practice, no source). */
export const LEAST_WATCHED_PART = 0.5

export function notebookSpell(nights: readonly NotebookNight[]): NotebookSpell {
  const whole = nights.filter(({ watched }) => watched === null || watched >= LEAST_WATCHED_PART)
  const timed = nights.flatMap(({ visits, watched }) =>
    visits !== null && watched !== null && watched > 0 ? [{ visits, watched }] : [],
  )
  const sum = (numbers: readonly number[]) => numbers.reduce((total, number) => total + number, 0)
  return {
    nights: nights.length,
    nightsSeen: nights.filter(({ head }) => head > 0).length,
    most: Math.max(0, ...nights.map(({ head }) => head)),
    headANight: whole.length === 0 ? null : sum(whole.map(({ head }) => head)) / whole.length,
    headNights: whole.length,
    visits: timed.length === 0 ? null : sum(timed.map(({ visits }) => visits)),
    watchedNights: timed.length === 0 ? null : sum(timed.map(({ watched }) => watched)),
  }
}
