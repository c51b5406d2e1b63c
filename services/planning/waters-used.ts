/** Whether a species uses a water, as far as anybody can know. */
import type { SpellTotals } from '../tally/spell-totals.ts'

/**
 * Watched for less, a water without a visit is not called unused: with 14 nights up to one visit in four nights may have been
 * missed (upper Garwood limit of no visit, 3.69, over 14; that this is enough is common practice, no source).
 */
export const LEAST_WATCHED_NIGHTS = 14

export const WATER_USES = ['seen', 'not seen', 'not watched enough'] as const
export type WaterUse = (typeof WATER_USES)[number]

/** ONE species at ONE water, over the nights looked at. */
export function waterUse({ visits, visitsNotWatched, watchedNights }: SpellTotals): WaterUse {
  if (visits + visitsNotWatched > 0) return 'seen'
  return watchedNights < LEAST_WATCHED_NIGHTS ? 'not watched enough' : 'not seen'
}
