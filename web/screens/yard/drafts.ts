/** What is typed at the yard, and the words it makes. Looked through here first: there may be no service to do it. */
import type { OutcomeAnswer, TrapEntryAnswer } from '../../../services/http/yard-shapes.ts'
import { FATES, type Fate } from '../../../services/tally/fates.ts'
import { TRAP_WORDS, type TrapWordKind } from '../../../services/tally/trap-visits.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import type { Failure } from '../../api/ask.ts'
import type { SaidTrapWord, TakenWord } from '../../api/yard-entries.ts'
import { typedNumber } from '../../parts/field.tsx'
import { instantOf, wallOf } from '../../parts/station-clock.ts'
import { wrongWords } from '../../text/yard.ts'

export type TakenDraft = {
  readonly program: string
  readonly species: Species
  readonly day: string
  readonly method: string
  readonly head: string
  readonly fate: Fate
  readonly class: string
  readonly amount: string
  readonly unit: string
  readonly carrier: string
  readonly paper: string
  readonly note: string
}

export type TrapDraft = {
  readonly kind: TrapWordKind
  /** Station wall time; empty: now. */
  readonly at: string
  readonly held: string
  readonly heldSince: string
  readonly species: Species | ''
  readonly class: string
  readonly note: string
}

export interface Clock {
  readonly zone: string
  /** By the station's clock as far as it is known. */
  readonly now: () => number
}

export interface Wrote {
  readonly pointId: number
  readonly id: string
  /** The entry in whose place it stands. */
  readonly withdraws: string | null
}

export type Made<Word> = { readonly word: Word } | { readonly wrong: Failure }

const wrong = (field: keyof typeof wrongWords): { readonly wrong: Failure } => ({
  wrong: { ...wrongWords[field], field, status: null },
})
const text = (typed: string) => (typed.trim() === '' ? undefined : typed.trim())
/** Left out where nothing was typed. */
function given<Fields extends Record<string, unknown>>(fields: Fields) {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [Name in keyof Fields]: Exclude<Fields[Name], undefined>
  }
}

export function takenWordOf(draft: TakenDraft, wrote: Wrote, { zone, now }: Clock): Made<TakenWord> {
  const head = typedNumber(draft.head)
  const amount = draft.amount.trim() === '' ? undefined : typedNumber(draft.amount)
  const method = text(draft.method)
  const unit = text(draft.unit)
  if (typeof head !== 'number' || !Number.isInteger(head) || head < 0) return wrong('head')
  if (draft.day === '' || draft.day > wallOf(now(), zone).slice(0, 10)) return wrong('day')
  if (method === undefined) return wrong('method')
  if (amount !== undefined && !(typeof amount === 'number' && amount > 0)) return wrong('amount')
  if (amount !== undefined && unit === undefined) return wrong('unit')
  return {
    word: {
      kind: 'taken',
      id: wrote.id,
      pointId: wrote.pointId,
      species: draft.species,
      day: draft.day,
      method,
      head,
      fate: draft.fate,
      ...given({
        programId: draft.program === '' ? undefined : Number(draft.program),
        class: text(draft.class),
        effort: amount === undefined || unit === undefined ? undefined : { amount, unit },
        carrier: text(draft.carrier),
        paper: text(draft.paper),
        note: text(draft.note),
        withdraws: wrote.withdraws ?? undefined,
      }),
    },
  }
}

export function trapWordOf(draft: TrapDraft, wrote: Wrote, { zone, now }: Clock): Made<SaidTrapWord> {
  const held = draft.held.trim() === '' ? undefined : typedNumber(draft.held)
  const at = draft.at === '' ? now() : instantOf(draft.at, zone)
  const since = draft.heldSince === '' ? undefined : instantOf(draft.heldSince, zone)
  if (held !== undefined && !(typeof held === 'number' && Number.isInteger(held) && held >= 0))
    return wrong('held')
  if (!(at <= now())) return wrong('at')
  const inside = held !== undefined && held > 0
  if (inside && since !== undefined && !(since <= at)) return wrong('heldSince')
  return {
    word: {
      kind: draft.kind,
      id: wrote.id,
      pointId: wrote.pointId,
      at: new Date(at).toISOString(),
      ...given({
        held,
        heldSince: inside && since !== undefined ? new Date(since).toISOString() : undefined,
        species: inside && draft.species !== '' ? draft.species : undefined,
        class: inside ? text(draft.class) : undefined,
        note: text(draft.note),
        withdraws: wrote.withdraws ?? undefined,
      }),
    },
  }
}

/** An entry that was written, as what would be typed for it. */
export function takenDraftOf(one: OutcomeAnswer | TakenWord): TakenDraft {
  const programId = one.programId ?? null
  const effort = one.effort ?? null
  return {
    program: programId === null ? '' : String(programId),
    species: SPECIES.find((name) => name === one.species) ?? 'cattle',
    day: one.day,
    method: one.method,
    head: String(one.head),
    fate: FATES.find((fate) => fate === one.fate) ?? 'trucked',
    class: one.class ?? '',
    amount: effort === null ? '' : String(effort.amount),
    unit: effort?.unit ?? '',
    carrier: one.carrier ?? '',
    paper: one.paper ?? '',
    note: one.note ?? '',
  }
}

export function trapDraftOf(one: TrapEntryAnswer | SaidTrapWord, zone: string): TrapDraft {
  const since = one.heldSince ?? null
  return {
    kind: TRAP_WORDS.find((kind) => kind === one.kind) ?? 'visited',
    at: wallOf(Date.parse(one.at), zone),
    held: one.held === null || one.held === undefined ? '' : String(one.held),
    heldSince: since === null ? '' : wallOf(Date.parse(since), zone),
    species: one.species ?? '',
    class: one.class ?? '',
    note: one.note ?? '',
  }
}
