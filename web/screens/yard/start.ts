/** What stands in the forms at first: as much as can be told, so that a gloved hand types little. */
import type { YardFormAnswer } from '../../../services/http/yard-shapes.ts'
import { wallOf } from '../../parts/station-clock.ts'
import type { Clock, TakenDraft, TrapDraft } from './drafts.ts'

const DAY_MS = 86_400_000

type Program = YardFormAnswer['programs'][number]

export interface Place {
  readonly pointId: number
  readonly program: Program | null
  readonly clock: Clock
}

/** The program asked for, else the one whose window holds now and whose list holds the point. */
export function programAt(
  form: YardFormAnswer,
  { pointId, asked }: { readonly pointId: number; readonly asked: number | null },
): Program | null {
  const named = form.programs.find(({ id }) => id === asked)
  if (named !== undefined) return named
  const today = form.now.slice(0, 10)
  // A night ends on the day after the date that it is named by.
  const lastDay = (night: string) =>
    new Date(Date.parse(`${night}T00:00:00Z`) + DAY_MS).toISOString().slice(0, 10)
  const running = form.programs.filter(
    (program) =>
      program.fromNight <= today && today <= lastDay(program.toNight) && program.pointIds.includes(pointId),
  )
  return running[0] ?? null
}

export function freshTaken({ program, clock }: Place, { typed }: YardFormAnswer): TakenDraft {
  return {
    program: program === null ? '' : String(program.id),
    species: program?.species ?? 'camel',
    day: wallOf(clock.now(), clock.zone).slice(0, 10),
    method: program?.method ?? typed.methods[0] ?? 'trap yard',
    head: '',
    fate: 'trucked',
    class: '',
    amount: '',
    unit: '',
    carrier: '',
    paper: '',
    note: '',
  }
}

export const freshTrap = ({ program }: Place): TrapDraft => ({
  kind: 'visited',
  at: '',
  held: '',
  heldSince: '',
  species: program?.species ?? '',
  class: '',
  note: '',
})
