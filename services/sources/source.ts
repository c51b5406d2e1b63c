/** What a way to fetch photos is: a kind says what it must be told, and how one look goes. */
import type { z } from 'zod'
import type { CameraRow } from '../store/cameras.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { Instant, SourceKindName } from '../words.ts'
import type { SourcePlace } from './place.ts'

export interface LookOrder<Settings, State> {
  readonly sourceId: number
  readonly camera: CameraRow
  readonly settings: Settings
  readonly state: State
  /** Tries in a row that failed before this one. */
  readonly failures: number
  /** A person asked: now, whatever the schedule says. */
  readonly asked: boolean
  /** The service is stopping. */
  readonly stop: AbortSignal
}

export interface Look<State> {
  /** `waits`: nothing is wrong, and something must be waited for: a limit, room on the disk. */
  readonly outcome: 'well' | 'waits' | 'failed'
  /** Photos that are safe now, those known before among them. */
  readonly came: readonly ReceivedStill[]
  /** What a person should know: why nothing came, or what is odd. */
  readonly words: string | null
  readonly state: State
  readonly nextAt: Instant
}

export interface SourceKind<Settings = unknown, State = unknown> {
  readonly name: SourceKindName
  /** All of a source's settings, as they are kept. */
  readonly door: z.ZodType<Settings>
  readonly state: z.ZodType<State>
  /** Before the first look, and after a change. */
  readonly fresh: State
  /** Settings as they may be answered: no password, no key. */
  shown(settings: Settings): Readonly<Record<string, unknown>>
  /** What a person may want to know of how it goes; absent: nothing. */
  told?(state: State): string | null
  /** What a change makes of the settings, still to be parsed. @throws Refusal */
  changed(before: Settings, given: Readonly<Record<string, unknown>>): unknown
  /** What can be known to be wrong before a look. @throws Refusal */
  refuse(settings: Settings, place: SourcePlace): Promise<void>
  /** One look. What a person can mend is in its words; only faults of ours are thrown. */
  look(place: SourcePlace, order: LookOrder<Settings, State>): Promise<Look<State>>
}

/** A kind among others: what comes out of the ledger is parsed again before it is given to it. */
export function asKind<Settings, State>(kind: SourceKind<Settings, State>): SourceKind {
  return {
    name: kind.name,
    door: kind.door,
    state: kind.state,
    fresh: kind.fresh,
    shown: (settings) => kind.shown(kind.door.parse(settings)),
    told(state) {
      const known = kind.state.safeParse(state)
      return known.success ? (kind.told?.(known.data) ?? null) : null
    },
    changed: (before, given) => kind.changed(kind.door.parse(before), given),
    refuse: (settings, place) => kind.refuse(kind.door.parse(settings), place),
    look(place, order) {
      const known = kind.state.safeParse(order.state)
      return kind.look(place, {
        ...order,
        settings: kind.door.parse(order.settings),
        state: known.success ? known.data : kind.fresh,
      })
    },
  }
}
