/** Whether a namer that is better over all spoils the count of one species. */
import type { Species } from '../words.ts'
import { signFlipP } from './sign-flip.ts'
import type { Outcome } from './trial.ts'

/** A species may come out worse by this share of its crops. */
export const MOST_WORSE = 0.05
/** More than that is let pass only where it may be chance: at a p over this. */
export const WORSE_LEVEL = 0.1
/** Never let pass, chance or not: few crops can't tell. */
export const MUCH_WORSE = 0.15

/**
 * Whether a species is counted worse: more of it missed, or more of others counted as it. A flat limit alone would refuse
 * one of five namers that harm no one, for each species, where its crops are few; so what is over `MOST_WORSE` must not
 * be chance alone (sign-flip test over night-cameras, as in the trial), and what is over `MUCH_WORSE` is refused as it is
 * (the levels: common practice, no source; what they catch is simulated in the tests).
 */
export function isSpoilt(outcomes: readonly Outcome[], species: Species): boolean {
  let crops = 0
  let net = 0
  const losses = new Map<string, number>()
  for (const { nightCamera, truth, base, station } of outcomes) {
    if (truth === species) crops++
    const loss =
      Number((station === species) !== (truth === species)) -
      Number((base === species) !== (truth === species))
    net += loss
    losses.set(nightCamera, (losses.get(nightCamera) ?? 0) + loss)
  }
  if (net <= MOST_WORSE * crops) return false
  return net > MUCH_WORSE * crops || signFlipP([...losses.values()]) <= WORSE_LEVEL
}
