/** What the muster says: whole head, days with dates, and when nothing can be said. */
import { describe, expect, test } from 'vitest'
import type { MusterAnswerShape, MusterStepShape } from '../../../services/http/muster-shapes.ts'
import { feedDaysWords, feedNotToldLines, feedWords } from '../../../web/text/feed.ts'
import {
  daysWords,
  headWords,
  latestStartWords,
  loadsWords,
  offWaterWords,
  threeWords,
} from '../../../web/text/muster.ts'

const answer = (change: object) => change as MusterAnswerShape
const step = (change: object) => change as MusterStepShape

describe('days', () => {
  test('count from 1, the last one included', () => {
    expect(daysWords({ from: 0, to: 1 }, null)).toBe('day 1')
    expect(daysWords({ from: 2, to: 5 }, null)).toBe('days 3 to 5')
    expect(daysWords({ from: 2, to: 2 }, null)).toBe('no day')
  })
  test('have dates where the first has one', () => {
    expect(daysWords({ from: 0, to: 1 }, '2027-01-09')).toBe('day 1, Sat 9 Jan')
    expect(daysWords({ from: 22, to: 25 }, '2027-01-09')).toBe('days 23 to 25, Sun 31 Jan to Tue 2 Feb')
  })
})

describe('head and loads', () => {
  test('are whole, their ends outwards', () => {
    expect(headWords({ low: 2.9, rate: 4.8, high: 7.1 })).toBe('5 (2 to 8)')
    expect(headWords({ low: 200, rate: 200, high: 200 })).toBe('200')
    expect(threeWords({ low: 1, expected: 2, high: 4 })).toBe('2 (1 to 4)')
    expect(loadsWords(step({ decks: 1, loads: { low: 1, expected: 1, high: 1 } }))).toBe('1 deck, 1 load')
    expect(loadsWords(step({ decks: 9, loads: { low: 1, expected: 1, high: 2 } }))).toBe(
      '9 decks, 1 (1 to 2) loads',
    )
  })
  test('that have no load are off water no hours', () => {
    expect(offWaterWords(step({ hoursOffWater: null }))).toBe('no load')
    expect(offWaterWords(step({ hoursOffWater: { firstLoad: 27, lastLoad: 27 } }))).toBe('27')
    expect(offWaterWords(step({ hoursOffWater: { firstLoad: 27, lastLoad: 51 } }))).toBe(
      '27 of the first load, 51 of the last',
    )
  })
})

describe('the latest start', () => {
  const started = (expected: string, high: string, today = '2026-11-25') =>
    latestStartWords(
      answer({ plan: { latestStart: { expected, high } }, figures: { endBy: '2027-01-31' }, today }),
    )
  test('is told for the high end first', () => {
    expect(started('2027-01-12', '2027-01-09')).toEqual([
      'To be done by the evening of Sun 31 Jan: Sat 9 Jan for the high end of the cattle, Tue 12 Jan for the number expected.',
    ])
    expect(started('2027-01-09', '2027-01-09')).toEqual([
      'To be done by the evening of Sun 31 Jan: Sat 9 Jan.',
    ])
  })
  test('that has passed is told so', () => {
    expect(started('2026-11-26', '2026-11-24')![0]).toMatch(/Tue 24 Nov has passed/)
  })
  test('needs a day to end by', () => {
    expect(latestStartWords(answer({ plan: { latestStart: null }, figures: { endBy: null } }))).toBeNull()
  })
})

describe('feed', () => {
  test('lasts whole days, and has no end where nothing eats', () => {
    expect(feedDaysWords({ low: 20.9, middle: 41.2, high: 90 })).toBe('41 (20 to 90)')
    expect(feedDaysWords({ low: 0.05, middle: 0.6, high: 3.4 })).toBe('under 1 (under 1 to 3)')
    expect(feedDaysWords({ low: 30, middle: null, high: null })).toBe('30 or more')
    expect(feedDaysWords({ low: null, middle: null, high: null })).toBe('no end')
  })
  test('is told with a day where it runs out', () => {
    const feed = (says: 'lasts' | 'may run out' | 'runs out', low: string | null, middle: string | null) =>
      feedWords({ says, runsOutOn: { low, middle } } as MusterAnswerShape['feed'][number])
    expect(feed('lasts', null, null)).toBe('lasts')
    expect(feed('may run out', '2026-12-18', null)).toBe('may run out, on Fri 18 Dec at the earliest')
    expect(feed('runs out', '2026-12-01', '2026-12-10')).toBe('runs out, about Thu 10 Dec')
  })
  test('that nobody rated is named', () => {
    const lines = feedNotToldLines(
      answer({
        points: [
          { pointId: 1, name: 'Kite Bore' },
          { pointId: 2, name: 'Galah Well' },
          { pointId: 3, name: 'Far Dam' },
        ],
        feedNotTold: [
          { pointId: 1, why: 'no feed given' },
          { pointId: 3, why: 'not watched' },
          { pointId: 2, why: 'no feed given' },
        ],
      }),
    )
    expect(lines).toEqual([
      'Nobody has rated the feed of Kite Bore and Galah Well.',
      'Not watched, so nobody can say what eats there: Far Dam.',
    ])
  })
})
