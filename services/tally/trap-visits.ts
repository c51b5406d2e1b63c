/** When a set trap is to be visited again, and what is held in it, from the words said of it. */
import type { Instant, Species } from '../words.ts'

export const TRAP_STATE_WORDS = ['trap set', 'trap open', 'trap shut down'] as const
/** Each says that somebody was there. A look through a camera is none of them. */
export const TRAP_WORDS = [...TRAP_STATE_WORDS, 'visited'] as const
export type TrapWordKind = (typeof TRAP_WORDS)[number]
export type TrapState = 'set' | 'open' | 'shut down'

/** At least daily; codes, heat or the number inside may ask for more, so it may be set shorter and never longer. */
export const LONGEST_VISIT_HOURS = 24
const HOUR_MS = 3_600_000

export interface TrapWord {
  readonly kind: TrapWordKind
  readonly at: Instant
  /** Head inside afterwards; null: not said. */
  readonly held: number | null
  readonly heldSince: Instant | null
  readonly species: Species | null
  readonly class: string | null
  readonly who: string
}

export interface TrapStanding {
  /** Null: only visits are known. */
  readonly state: TrapState | null
  readonly stateAt: Instant | null
  /** When somebody was last there, and who. */
  readonly visitedAt: Instant
  readonly visitedBy: string
  readonly held: {
    readonly head: number
    readonly since: Instant | null
    readonly species: Species | null
    readonly class: string | null
  } | null
  /** When it is to be visited at the latest; null for one that holds nothing and catches nothing. */
  readonly dueBy: Instant | null
  readonly overdue: boolean
}

/**
 * How a trap stands by the words that are believed at `now`, in any order; null without one. A trap that is set, or that still holds head,
 * is to be visited within `hours` of the last time somebody was there. Opening it or shutting it down lets go what it
 * held unless the word says otherwise.
 */
export function trapStanding(
  words: readonly TrapWord[],
  { now, hours }: { readonly now: Instant; readonly hours: number },
): TrapStanding | null {
  const inOrder = words.toSorted((a, b) => a.at - b.at)
  const last = inOrder.at(-1)
  if (last === undefined) return null
  const stateWord = inOrder.findLast(({ kind }) => kind !== 'visited')
  const state = stateWord === undefined ? null : stateOf(stateWord.kind)
  const held = heldBy(inOrder.findLast(saysHeld))
  const watchful = state === 'set' || held !== null
  const dueBy = watchful ? ((last.at + hours * HOUR_MS) as Instant) : null
  return {
    state,
    stateAt: stateWord?.at ?? null,
    visitedAt: last.at,
    visitedBy: last.who,
    held,
    dueBy,
    overdue: dueBy !== null && now > dueBy,
  }
}

const stateOf = (kind: TrapWordKind) => kind.replace('trap ', '') as TrapState

const saysHeld = ({ kind, held }: TrapWord) =>
  held !== null || kind === 'trap open' || kind === 'trap shut down'

function heldBy(word: TrapWord | undefined): TrapStanding['held'] {
  if (word === undefined || word.held === null || word.held === 0) return null
  return { head: word.held, since: word.heldSince, species: word.species, class: word.class }
}
