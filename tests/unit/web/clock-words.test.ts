/** What the screens say of times put right and of cameras that ask for a look. */
import { describe, expect, it, test } from 'vitest'
import type { ShiftPreview } from '../../../services/http/clock-shapes.ts'
import { notWatchedWords, troubleWords, unreadableWords } from '../../../web/text/cameras.ts'
import { cannotSeeWords } from '../../../web/text/cannot-see.ts'
import { fullTime, previewWords, shiftLength } from '../../../web/text/clocks.ts'
import { cameraFact, headLine, troublesOf } from '../../../web/text/water-run.ts'
import { answerOf, rowOf } from './rows.ts'

test.each([
  [0, 'at the same time'],
  [-86_400, '1 day earlier'],
  [3_600, '1 h later'],
  [93_784, '1 day 2 h 3 min later'],
  [-45, '45 s earlier'],
  [31_536_000, '365 days later'],
])('a shift by %d seconds is told as %s', (seconds, words) => {
  expect(shiftLength(seconds)).toBe(words)
})

test('a wrong clock is told with its year', () => {
  expect(fullTime('2021-01-01T00:12:40+10:30')).toBe('Fri 1 Jan 2021, 00:12')
})

test('what a shift would do says how many photos, how far, and what becomes of doubts', () => {
  const photo = { stillId: 1, before: '2026-11-25T00:00:00Z', after: '2026-11-24T00:00:00Z' }
  const preview: ShiftPreview = {
    ...{ run: 'all', cameraName: 'Kite Bore', photos: 142, seconds: -86_400 },
    ...{ photo, first: photo, last: photo, inDoubt: 9, inDoubtAfter: 0 },
  }
  expect(previewWords(preview)).toBe(
    '142 photos of Kite Bore, each 1 day earlier. Clock in doubt on 9 of them now, on 0 then.',
  )
  expect(previewWords({ ...preview, seconds: 0, photos: 1, inDoubt: 0 })).toBe(
    '1 photo of Kite Bore: the time is said to be right.',
  )
})

test('unreadable files are told of a week, and louder where they rose', () => {
  expect(unreadableWords({ files: 0, of: 40, rise: false })).toBe('none in a week')
  expect(unreadableWords({ files: 3, of: 40, rise: true })).toBe('3 of 40 files in a week, more than usual')
})

test('each reason why a night was not watched has its hours and its camera', () => {
  const reasons = [
    { camera: 'Kite Bore', why: 'knocked' as const, hours: 13.6 },
    { camera: 'Kite Bore', why: 'not up' as const, hours: 0.5 },
  ]
  expect(notWatchedWords(reasons)).toEqual([
    'Camera knocked: 14 h (Kite Bore)',
    'Not up here: 30 min (Kite Bore)',
  ])
})

test('what was wrong with a camera is told with its time and the last word on it', () => {
  const word = { at: '2026-11-25T07:10:00+10:30', who: 'Ash', setRightAt: null, note: null }
  const trouble = {
    ...{
      id: 1,
      kind: 'knocked' as const,
      from: '2026-11-24T08:00:00+10:30',
      to: null,
      stillId: 3,
      isFine: false,
    },
    words: [],
  }
  expect(troubleWords(trouble)).toBe('Knocked: it looks elsewhere, since Tue 24 Nov, 08:00')
  expect(
    troubleWords({
      ...trouble,
      to: '2026-11-25T07:00:00+10:30',
      words: [{ ...word, word: 'set right' }],
    }),
  ).toBe(
    'Knocked: it looks elsewhere, Tue 24 Nov, 08:00 to Wed 25 Nov, 07:00; said to be set right (Ash, Wed 25 Nov, 07:10)',
  )
})

describe('a camera that speaks and can’t see', () => {
  const blind = rowOf(1, { camera: 'cannot see', cannotSee: ['blind', 'card full'] })

  it('is no point watched, and an alarm', () => {
    expect(cameraFact(blind, '2026-11-25T06:10:00+10:30')).toEqual({
      tone: 'alarm',
      words: 'Camera can’t see: lens blind, card full',
    })
    expect(cannotSeeWords(['knocked'])).toBe('Camera can’t see: knocked')
    const run = answerOf([blind])
    expect(headLine(run)).toMatch(/^0 of 1 point watched\. 1 needs a look\.$/)
    expect(troublesOf(run).map(({ tone, words }) => [tone, words])).toContainEqual([
      'alarm',
      `Camera can’t see: lens blind, card full, at ${blind.point.name}`,
    ])
  })
})
