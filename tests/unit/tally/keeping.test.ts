/** Which photos may go. */
import { describe, expect, test } from 'vitest'
import { goneBefore, type KeepingRule, type KeptPhoto, leftOf } from '../../../services/tally/keeping.ts'
import type { Instant } from '../../../services/words.ts'

const DAY_MS = 86_400_000
const NOW = Date.UTC(2026, 10, 25) as Instant
const daysAgo = (days: number) => (NOW - days * DAY_MS) as Instant

const drop: KeepingRule = { empties: 'drop', afterDays: 60 }
const shrink: KeepingRule = { empties: 'shrink', afterDays: 60 }
const oldEmpty: KeptPhoto = {
  state: 'done',
  flagged: false,
  unsure: false,
  checked: false,
  marked: false,
  drawn: false,
  animals: false,
  receivedAt: daysAgo(61),
  kept: 'whole',
}
const left = (change: Partial<KeptPhoto>, rule = drop) => leftOf({ ...oldEmpty, ...change }, rule, NOW)

test('an old empty photo goes, or is made smaller, as the owner wants', () => {
  expect(left({})).toBe('none')
  expect(left({}, shrink)).toBe('small')
  expect(left({}, { empties: 'keep', afterDays: 60 })).toBe('whole')
})
test('it goes once its days are over, not on the day itself', () => {
  expect(left({ receivedAt: daysAgo(60) })).toBe('whole')
  expect(left({ receivedAt: (daysAgo(60) - 1) as Instant })).toBe('none')
})
describe('stays whole, however old', () => {
  test.each([
    ['a flagged photo', { flagged: true }],
    ['an unsure one', { unsure: true }],
    ['one on which somebody marked that a person is in it', { marked: true }],
    ['a checked one, of which a person said that nothing is there too', { checked: true }],
    ['one that was drawn for a blind look', { drawn: true }],
    ['one with animals that count', { animals: true }],
    ['one that the eye has not read yet', { state: 'received' }],
  ] as const)('%s', (_what, change) => {
    expect(left({ ...change, receivedAt: daysAgo(4000) })).toBe('whole')
    expect(left({ ...change, receivedAt: daysAgo(4000) }, shrink)).toBe('whole')
  })
})
test('what is unreadable cannot be made smaller: it goes whole or stays whole', () => {
  expect(left({ state: 'unreadable' })).toBe('none')
  expect(left({ state: 'unreadable' }, shrink)).toBe('whole')
  expect(left({ state: 'unreadable', receivedAt: daysAgo(59) })).toBe('whole')
})
test('one that was made smaller goes by a later rule, and none comes back', () => {
  expect(left({ kept: 'small' })).toBe('none')
  expect(left({ kept: 'none' }, shrink)).toBe('none')
  expect(left({ kept: 'small' }, { empties: 'keep', afterDays: 60 })).toBe('small')
})
test('one that was made smaller and flagged later stays as it is', () => {
  expect(left({ kept: 'small', flagged: true })).toBe('small')
})
test('days are counted from when it came in', () => {
  expect(goneBefore(drop, NOW)).toBe(daysAgo(60))
})
