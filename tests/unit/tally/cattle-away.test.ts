import { describe, expect, test } from 'vitest'
import { awayBecause, RAIN_HOLDS_DAYS } from '../../../services/tally/cattle-away.ts'
import type { Instant, StateKind } from '../../../services/words.ts'

const DAY = 86_400_000
const NOW = (100 * DAY) as Instant
const said = (kind: StateKind, daysAgo: number, source: 'tap' | 'reading' = 'tap') => ({
  kind,
  at: (NOW - daysAgo * DAY) as Instant,
  source,
})

describe('why cattle may be away', () => {
  test('nothing said explains nothing; a low water neither', () => {
    expect(awayBecause([], NOW)).toBeNull()
    expect(awayBecause([said('water low', 1), said('trap open', 1)], NOW)).toBeNull()
  })
  test.each(['water off', 'spelled'] as const)(
    '%s stands until somebody speaks of the water again',
    (kind) => {
      expect(awayBecause([said(kind, 50)], NOW)).toMatchObject({ kind, stops: true })
      expect(awayBecause([said(kind, 50), said('water good', 2)], NOW)).toBeNull()
      expect(awayBecause([said(kind, 1), said('water good', 2)], NOW)).toMatchObject({ kind, stops: true })
    },
  )
  test('a reading says nothing of a closed valve', () => {
    expect(awayBecause([said('water off', 5), said('water good', 1, 'reading')], NOW)).toMatchObject({
      kind: 'water off',
    })
  })
  test('rain holds for a week', () => {
    expect(awayBecause([said('rain', RAIN_HOLDS_DAYS)], NOW)).toMatchObject({ kind: 'rain', stops: true })
    expect(awayBecause([said('rain', RAIN_HOLDS_DAYS + 0.01)], NOW)).toBeNull()
  })
  test('a set trap explains and does not stop; one that is shut down is none', () => {
    expect(awayBecause([said('trap set', 3)], NOW)).toMatchObject({ kind: 'trap set', stops: false })
    expect(awayBecause([said('trap set', 3), said('trap shut down', 1)], NOW)).toBeNull()
  })
  test('what stops goes before what explains, and what is not yet true says nothing', () => {
    expect(awayBecause([said('trap set', 1), said('rain', 2)], NOW)).toMatchObject({ kind: 'rain' })
    expect(awayBecause([said('rain', -1)], NOW)).toBeNull()
  })
})
