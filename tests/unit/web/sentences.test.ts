import { describe, expect, test } from 'vitest'
import { cardSentence } from '../../../web/text/check.ts'
import { head, tallyWords } from '../../../web/text/counts.ts'
import { nightCellWords } from '../../../web/text/point.ts'
import { progressWords } from '../../../web/text/shell.ts'
import {
  cameraFact,
  cattleFact,
  feralWords,
  headLine,
  troublesOf,
  watchedWords,
  waterFact,
  waterNotSeenLine,
} from '../../../web/text/water-run.ts'
import { answerOf, cardOf, cattleOf, NOW, rowOf, stillOf, trapOf } from './rows.ts'

const HELD = { head: 14, species: 'camel', class: null, since: null } as const

describe('head and species in words', () => {
  test('one animal is named as one, cattle by the head', () => {
    expect(head('camel', 1)).toBe('1 camel')
    expect(head('camel', 3)).toBe('3 camels')
    expect(head('cattle', 1)).toBe('1 head of cattle')
    expect(head('cattle', 12)).toBe('12 cattle')
  })

  test('a tally of several species reads as a sentence, an empty one says so', () => {
    expect(tallyWords({ camel: 3, cattle: 2 })).toBe('2 cattle and 3 camels')
    expect(tallyWords({})).toBe('nothing counted')
  })

  test('a card says what, when and where', () => {
    expect(cardSentence(cardOf([stillOf(1)]))).toBe('3 camels, 21:40 to 22:15, Kite Bore')
  })
})

describe('the water run answers "is all well?"', () => {
  test('when all is well it says so', () => {
    expect(headLine(answerOf([rowOf(1), rowOf(2)]))).toBe('All 2 points watched. Nothing asks for a look.')
  })

  test('points that need a look are counted once each, however much is wrong there', () => {
    const bad = rowOf(2, {
      camera: 'down',
      water: { state: 'dry', at: NOW, source: 'tap', levelPercent: null },
    })
    expect(headLine(answerOf([rowOf(1), bad]))).toBe('1 of 2 points watched. 1 needs a look.')
  })

  test('the worst comes first: head held that nobody visits, a set trap, dry water, no cattle in, a camera down, low water', () => {
    const rows = [
      rowOf(1, { water: { state: 'low', at: NOW, source: 'reading', levelPercent: 31 } }),
      rowOf(2, { camera: 'down' }),
      rowOf(3, { cattle: cattleOf({ lastSeenAt: '2026-11-21T06:00:00+10:30', state: 'not in' }) }),
      rowOf(4, { water: { state: 'dry', at: NOW, source: 'tap', levelPercent: null } }),
      rowOf(5, { trap: trapOf({ visitedAt: '2026-11-24T04:10:00+10:30', overdue: true }) }),
      rowOf(6, { trap: trapOf({}) }),
      rowOf(7, { trap: trapOf({ visitedAt: '2026-11-23T06:00:00+10:30', overdue: true, held: HELD }) }),
    ]
    expect(troublesOf(answerOf(rows)).map((trouble) => trouble.words)).toEqual([
      '14 camels held at Point 7 and nobody there for 2 days: go now',
      'Trap set at Point 5 and not visited for 26 h: visit it now',
      'Water dry at Point 4',
      'No cattle in at Point 3 for 4 days',
      'Camera down at Point 2',
      'Trap set at Point 6: visit by Thu 26 Nov, 06:10',
      'Water low at Point 1',
    ])
  })

  test('water not seen is said beside the head line, never counted as well and never dressed as good', () => {
    const notSeen = { state: 'not seen', at: null, source: null, levelPercent: null } as const
    expect(waterNotSeenLine(answerOf([rowOf(1), rowOf(2, { water: notSeen })]))).toContain('at Point 2')
    expect(waterFact(notSeen, NOW)).toEqual({ tone: 'unknown', words: 'Water not seen' })
  })

  test('water says its age, and the level where a reading gave one', () => {
    const water = {
      state: 'low',
      at: '2026-11-25T04:10:00+10:30',
      source: 'reading',
      levelPercent: 31,
    } as const
    expect(waterFact(water, NOW)).toEqual({ tone: 'look', words: 'Water low 31 %, 2 h ago' })
  })

  test('cattle: seen, not in to water, or nobody can say', () => {
    expect(cattleFact(rowOf(1).cattle, NOW).words).toBe('Cattle 40 min ago')
    expect(
      cattleFact(cattleOf({ lastSeenAt: '2026-11-21T06:00:00+10:30', state: 'not in' }), NOW).words,
    ).toBe('Not in to water: 4 days')
    expect(cattleFact(cattleOf({ lastSeenAt: null, stillId: null, state: 'not watched' }), NOW)).toEqual({
      tone: 'unknown',
      words: 'Cattle: not watched',
    })
  })

  test('a camera that never spoke is new, not watching', () => {
    expect(cameraFact(rowOf(1, { camera: 'new' }), NOW).tone).toBe('unknown')
  })

  test('feral visits say how many, and the least number that was there', () => {
    const seen = { species: 'camel', visits: 2, peak: 4, firstAt: NOW, lastAt: NOW, bestStillId: 1 } as const
    expect(feralWords(seen)).toBe('2 camel visits, at least 4')
  })

  test('a night watched in part says so, and a night not watched is not a night of no animals', () => {
    expect(watchedWords(1)).toBeNull()
    expect(watchedWords(0.93)).toBeNull()
    expect(watchedWords(0.5)).toBe('Watched 50 % of the night')
    expect(watchedWords(0.001)).toBe('Watched 1 % of the night')
    expect(watchedWords(0)).toBe('Not watched this night')
    expect(nightCellWords(undefined, 0)).toBe('not watched')
    expect(nightCellWords(undefined, 1)).toBe('none')
  })
})

describe('long work shows progress', () => {
  const progress = { waiting: 0, done: 5, unreadable: 0, making: null, again: null, recount: null }

  test('nothing under way, nothing said', () => {
    expect(progressWords(progress)).toBeNull()
  })

  test('the past being made and photos being read are told apart', () => {
    expect(progressWords({ ...progress, waiting: 12, making: { made: 420, of: 1650 } })).toBe(
      'Making the demo’s past: 420 of 1,650; 12 photos being read',
    )
  })

  test('old photos looked at again, and counts that follow new marks, are told with how far they are', () => {
    const again = { done: 40, of: 1200, paused: true }
    const recount = { done: 0, of: 1, paused: false }
    expect(progressWords({ ...progress, again, recount })).toBe(
      'Looking at old photos again (paused): 40 of 1,200 photos; Counting again: 0 of 1 photo',
    )
  })
})
