import { describe, expect, test } from 'vitest'
import { type TrapWord, trapStanding } from '../../../services/tally/trap-visits.ts'
import type { Instant } from '../../../services/words.ts'

const NOON = Date.parse('2026-11-20T12:00:00Z')
const hour = (hours: number) => (NOON + hours * 3_600_000) as Instant
const word = (kind: TrapWord['kind'], hours: number, said: Partial<TrapWord> = {}): TrapWord => ({
  kind,
  at: hour(hours),
  held: null,
  heldSince: null,
  species: null,
  class: null,
  who: 'Ash',
  ...said,
})
const standing = (words: readonly TrapWord[], hours: number, limit = 24) =>
  trapStanding(words, { now: hour(hours), hours: limit })

describe('a set trap', () => {
  test('is due a day after it was set', () => {
    expect(standing([word('trap set', 0)], 24)).toMatchObject({
      state: 'set',
      dueBy: hour(24),
      overdue: false,
    })
    expect(standing([word('trap set', 0)], 24.01)).toMatchObject({ overdue: true })
  })
  test('is due anew after each visit', () => {
    const words = [word('trap set', 0), word('visited', 20, { who: 'Robin' })]
    expect(standing(words, 40)).toMatchObject({
      visitedAt: hour(20),
      visitedBy: 'Robin',
      dueBy: hour(44),
      overdue: false,
    })
  })
  test('is due sooner where the owner says so', () => {
    expect(standing([word('trap set', 0)], 13, 12)).toMatchObject({ dueBy: hour(12), overdue: true })
  })
  test('is told from its latest word, in whatever order the words came in', () => {
    const words = [word('trap open', 30), word('trap set', 0), word('visited', 20)]
    expect(standing(words, 60)).toMatchObject({ state: 'open', dueBy: null, overdue: false })
  })
})

describe('what a trap holds', () => {
  test('stays held by a visit that says nothing of it', () => {
    const words = [
      word('trap set', 0),
      word('visited', 10, { held: 14, species: 'camel' }),
      word('visited', 20),
    ]
    expect(standing(words, 21)?.held).toMatchObject({ head: 14, species: 'camel' })
  })
  test('is let go by opening it, unless the word says otherwise', () => {
    const held = [word('trap set', 0), word('visited', 10, { held: 14 })]
    expect(standing([...held, word('trap open', 20)], 50)).toMatchObject({ held: null, dueBy: null })
    expect(standing([...held, word('trap open', 20, { held: 3 })], 50)).toMatchObject({
      held: { head: 3 },
      dueBy: hour(44),
      overdue: true,
    })
  })
  test('is nothing when a visit says none', () => {
    expect(standing([word('trap set', 0, { held: 4 }), word('visited', 9, { held: 0 })], 10)?.held).toBeNull()
  })
})

test('nothing is known of a trap without a word', () => {
  expect(standing([], 0)).toBeNull()
})
