/** What became of head that were taken at a point. */

export const FATES = ['trucked', 'released', 'destroyed', 'died'] as const
export type Fate = (typeof FATES)[number]

/** Whether they are gone from the water for good: those let go may come back. */
export const isGone = (fate: Fate): boolean => fate !== 'released'
