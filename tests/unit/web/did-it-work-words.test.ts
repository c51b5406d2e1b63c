/** What is said of a program that has been: never more than the numbers hold. */
import { describe, expect, test } from 'vitest'
import type { DidItWorkAnswer, WorkedChange, WorkedPoint } from '../../../services/http/did-it-work-shapes.ts'
import {
  chanceWords,
  countWords,
  metWords,
  saysWords,
  seasonWords,
  spanWords,
  timesWords,
  unlikeLine,
} from '../../../web/text/did-it-work.ts'
import { estimateWords, moreRoundsWords } from '../../../web/text/removal.ts'

const answer = (change: object) =>
  ({
    program: { species: 'camel' },
    points: [],
    after: { from: '', to: '' },
    ...change,
  }) as unknown as DidItWorkAnswer
const change = (some: Partial<WorkedChange>): WorkedChange => ({
  verdict: 'no clear change',
  ratio: null,
  low: null,
  high: null,
  p: null,
  correctedP: null,
  ...some,
})

describe('the verdict', () => {
  const neighbour = (name: string, verdict: WorkedChange['verdict']) => ({
    name,
    part: 'neighbour',
    change: { verdict },
  })
  test('names the points next door to which more came', () => {
    const points = [
      { name: 'Target Bore', part: 'program', change: { verdict: 'fewer' } },
      neighbour('Kite Bore', 'more'),
      neighbour('Galah Well', 'no clear change'),
      neighbour('Pigeon Soak', 'more'),
    ]
    expect(saysWords(answer({ says: 'fewer here, more next door', points }))).toBe(
      'Fewer camels here, more next door: at Kite Bore and Pigeon Soak.',
    )
  })
  test('names none where only all of them together tell', () => {
    const points = [neighbour('Kite Bore', 'worth a look')]
    expect(saysWords(answer({ says: 'fewer here, more next door', points }))).toBe(
      'Fewer camels here, more next door: at its neighbours together.',
    )
  })
  test('tells waiting for nights from too few of them', () => {
    const says = 'too few nights to tell'
    expect(saysWords(answer({ says, after: null }))).toMatch(/No night after the program is over/)
    expect(saysWords(answer({ says }))).toMatch(/Too few watched nights/)
  })
})

describe('numbers', () => {
  test('of a change have their range, and an end only where there is one', () => {
    expect(timesWords(change({ ratio: 0.3813, low: 0.1139, high: 1.158, p: 0.1 }))).toBe('0.38 (0.11 to 1.2)')
    expect(timesWords(change({ ratio: null, low: 0.7, high: null, p: 0.2 }))).toBe('at least 0.7')
    expect(timesWords(change({ ratio: null, low: 0, high: null, p: 1 }))).toBe('none in either')
    expect(timesWords(change({}))).toBe('not to be told')
  })
  test('of chance are never nought', () => {
    const some = { ratio: 0.38, low: 0.11, high: 1.2 }
    expect(chanceWords(change({ ...some, p: 0.0957 }))).toBe(
      'At the program’s points 0.38 times as many visits a night as before (0.11 to 1.2). Chance alone would show as much in 96 of 1,000 such programs.',
    )
    expect(chanceWords(change({ ...some, p: 0.0001 }))).toMatch(/less than once in 1,000/)
    expect(chanceWords(change({}))).toBeNull()
  })
  test('of a point that was not watched are none', () => {
    expect(countWords({ visits: 0, watchedNights: 0, largest: 0 })).toBe('not watched')
    expect(countWords({ visits: 10, watchedNights: 17.79, largest: 7 })).toBe('10 in 17.8 nights')
  })
  test('of a spell reach from noon to noon', () => {
    expect(spanWords({ from: '2026-10-24', to: '2026-11-20' })).toBe(
      'noon Sat 24 Oct to noon Sat 21 Nov, 28 nights',
    )
  })
  test('of last year are missing in words', () => {
    expect(seasonWords(answer({ season: null, lastYear: null }))).toMatch(/not watched/)
  })
})

test('words on a point make its spells unlike', () => {
  const states = [
    { kind: 'water off', at: '2026-11-03T08:00:00+10:30' },
    { kind: 'rain', at: '2026-11-09T08:00:00+10:30' },
  ]
  expect(unlikeLine({ states } as WorkedPoint)).toBe(
    'Water off on Tue 3 Nov, rain on Mon 9 Nov: the spells may be unlike.',
  )
  expect(unlikeLine({ states: [] as WorkedPoint['states'] } as WorkedPoint)).toBeNull()
})

describe('what was taken', () => {
  test('is told by what became of it, with other species apart', () => {
    const met = {
      head: 22,
      released: 2,
      byFate: [
        { fate: 'trucked', head: 21 },
        { fate: 'released', head: 2 },
        { fate: 'died', head: 1 },
      ],
      others: [{ species: 'donkey', head: 1 }],
    }
    expect(metWords(answer({ met }))).toBe(
      '22 camels taken: 21 trucked, 1 died. 2 let go again. Also 1 donkey.',
    )
  })
  test('tells how many there were, and what nobody can say', () => {
    const estimate = {
      kind: 'estimate',
      head: 31,
      low: 24,
      high: null,
      caught: 22,
      chance: 0.4,
      byZippin: 30.2,
      fitP: 0.6,
      standardError: 5,
      moreRounds: { expected: 2, atHigh: null },
    } as const
    expect(estimateWords(estimate, 'camel')).toBe(
      'About 31 camels before the program (at least 24; nobody can say how many at most); 22 were taken, so about 9 were left.',
    )
    expect(moreRoundsWords(estimate, 80)).toBe(
      '2 more rounds like these would take 80 in 100 of them; at the high end nobody can say.',
    )
    const more = (expected: number, atHigh: number | null) =>
      moreRoundsWords({ ...estimate, moreRounds: { expected, atHigh } }, 50)
    expect(more(0, 0)).toBe('50 in 100 of them are taken already, at the high end too.')
    expect(more(0, 4)).toMatch(/taken already; at the high end it would take 4 more rounds/)
    expect(more(0, null)).toMatch(/taken already; at the high end nobody can say/)
    expect(more(1, 4)).toBe('1 more round like these would take 50 in 100 of them; 4 at the high end.')
  })
})
