import { describe, expect, test } from 'vitest'
import { outcomesDoor, trapLogDoor } from '../../../services/http/yard-doors.ts'
import {
  type TakenDraft,
  type TrapDraft,
  takenDraftOf,
  takenWordOf,
  trapDraftOf,
  trapWordOf,
} from '../../../web/screens/yard/drafts.ts'

const clock = { zone: 'Australia/Adelaide', now: () => Date.parse('2026-11-25T06:10:00+10:30') }
const wrote = { pointId: 4, id: '0d6f2a52-6d1c-4d7b-9c1e-0a4a5c1d2e3f', withdraws: null }
const taken: TakenDraft = {
  program: '',
  species: 'camel',
  day: '2026-11-25',
  method: ' trap yard ',
  head: '7',
  fate: 'trucked',
  class: '',
  amount: '',
  unit: '',
  carrier: '',
  paper: '',
  note: '',
}
const trap: TrapDraft = {
  kind: 'visited',
  at: '',
  held: '',
  heldSince: '',
  species: '',
  class: '',
  note: '',
}
const takenOf = (typed: Partial<TakenDraft>) => takenWordOf({ ...taken, ...typed }, wrote, clock)
const trapOf = (typed: Partial<TrapDraft>) => trapWordOf({ ...trap, ...typed }, wrote, clock)
const wordIn = <Word>(made: { readonly word: Word } | { readonly wrong: unknown }): Word => {
  if ('word' in made) return made.word
  throw new Error(JSON.stringify(made))
}
const fieldOf = (made: ReturnType<typeof takenOf> | ReturnType<typeof trapOf>) =>
  'wrong' in made ? made.wrong.field : null

describe('head taken', () => {
  test('makes a word that the service’s door takes, without what was not typed', () => {
    const word = wordIn(takenOf({}))
    expect(word).toEqual({
      kind: 'taken',
      ...{ id: wrote.id, pointId: 4, species: 'camel', day: '2026-11-25', method: 'trap yard', head: 7 },
      fate: 'trucked',
    })
    expect(outcomesDoor.safeParse({ who: 'Ash', words: [word] }).success).toBe(true)
  })

  test('says at its field what is wrong, without the service', () => {
    expect(fieldOf(takenOf({ head: '' }))).toBe('head')
    expect(fieldOf(takenOf({ head: '-1' }))).toBe('head')
    expect(fieldOf(takenOf({ head: 'six' }))).toBe('head')
    expect(fieldOf(takenOf({ head: '2.5' }))).toBe('head')
    expect(fieldOf(takenOf({ day: '2026-11-26' }))).toBe('day')
    expect(fieldOf(takenOf({ method: ' ' }))).toBe('method')
    expect(fieldOf(takenOf({ amount: '0', unit: 'hours' }))).toBe('amount')
    expect(fieldOf(takenOf({ amount: '3' }))).toBe('unit')
  })

  test('can be typed again as it was written', () => {
    const full = {
      ...{ program: '3', class: 'cows', amount: '1.5', unit: 'hours', carrier: 'a carrier' },
      ...{ paper: 'WB-17', note: 'late' },
    }
    const draft = { ...taken, ...full, method: 'trap yard' }
    expect(takenDraftOf(wordIn(takenOf(full)))).toEqual(draft)
  })
})

describe('a word on the trap', () => {
  test('is of now where no time is typed', () => {
    const word = wordIn(trapOf({}))
    expect(word).toEqual({ kind: 'visited', id: wrote.id, pointId: 4, at: '2026-11-24T19:40:00.000Z' })
    expect(trapLogDoor.safeParse({ who: 'Ash', words: [word] }).success).toBe(true)
  })

  test('is of the station’s time that was typed', () => {
    expect(wordIn(trapOf({ at: '2026-11-24T18:00' })).at).toBe('2026-11-24T07:30:00.000Z')
  })

  test('says since when head is held only where some is', () => {
    const typed = { heldSince: '2026-11-24T18:00', species: 'camel', class: 'cows' } as const
    expect(wordIn(trapOf({ ...typed, held: '0' }))).toMatchObject({ held: 0 })
    expect(wordIn(trapOf({ ...typed, held: '0' }))).not.toHaveProperty('heldSince')
    const word = wordIn(trapOf({ ...typed, held: '4' }))
    expect(word).toMatchObject({ held: 4, heldSince: '2026-11-24T07:30:00.000Z', species: 'camel' })
    expect(trapDraftOf(word, clock.zone)).toEqual({ ...trap, ...typed, held: '4', at: '2026-11-25T06:10' })
  })

  test('says at its field what is wrong', () => {
    expect(fieldOf(trapOf({ held: '-1' }))).toBe('held')
    expect(fieldOf(trapOf({ at: '2026-11-25T06:11' }))).toBe('at')
    expect(fieldOf(trapOf({ at: 'soon' }))).toBe('at')
    expect(fieldOf(trapOf({ held: '2', at: '2026-11-24T18:00', heldSince: '2026-11-24T18:01' }))).toBe(
      'heldSince',
    )
  })
})
