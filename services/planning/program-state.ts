/** How far a program has come. */
import type { NightDate } from '../words.ts'

export type ProgramState = 'planned' | 'going on' | 'nights are over' | 'finished' | 'dropped'

/** By the night that is now; what people said of it goes before its dates. */
export function programState(
  program: {
    readonly fromNight: NightDate
    /** Included. */
    readonly toNight: NightDate
    readonly finished: boolean
    readonly dropped: boolean
  },
  tonight: NightDate,
): ProgramState {
  if (program.finished) return 'finished'
  if (program.dropped) return 'dropped'
  if (tonight < program.fromNight) return 'planned'
  return tonight <= program.toNight ? 'going on' : 'nights are over'
}
