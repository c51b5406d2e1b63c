/** What is said on a blind look, and marks chosen by what they would do. */
import { describe, expect, test } from 'vitest'
import { nothingInAny, saidOf, startLook, stepBack, withHead } from '../../../web/screens/blind-look/said.ts'
import { cheapestMark, withCount, withFlag } from '../../../web/screens/how-right/marks-desk.ts'
import { correctedWords, percent, shareWords } from '../../../web/text/shares.ts'

describe('a blind look', () => {
  test('a head more and a head fewer; a species of which none is left is not there', () => {
    const one = withHead(startLook, 'camel', 1)
    expect(one.counts).toEqual({ camel: 1 })
    expect(withHead(one, 'camel', -1).counts).toEqual({})
    expect(withHead(startLook, 'camel', -1).counts).toEqual({})
  })
  test('each photo has a word of its own, and the one before can be said again', () => {
    const second = saidOf(withHead(startLook, 'goat', 1), { goat: 1 })
    expect(second).toEqual({ at: 1, counts: {}, said: [{ goat: 1 }] })
    expect(stepBack(second)).toEqual({ at: 0, counts: { goat: 1 }, said: [] })
    expect(stepBack(startLook)).toEqual(startLook)
  })
  test('nothing in any photo is a word on each', () => {
    expect(nothingInAny(3)).toEqual({ at: 3, counts: {}, said: [{}, {}, {}] })
  })
})

describe('marks', () => {
  const step = (mark: number, falseFlags: number, missed: number) => ({
    mark,
    falseFlags,
    missed,
    flagged: 100,
    precision: 0.5,
    recall: 0.5,
    toLookAt: 0,
    counted: 0,
  })
  test('to look from and to count from never cross', () => {
    expect(withFlag({ flag: 0.35, count: 0.5 }, 0.7)).toEqual({ flag: 0.7, count: 0.7 })
    expect(withCount({ flag: 0.35, count: 0.5 }, 0.2)).toEqual({ flag: 0.2, count: 0.2 })
  })
  test('of least cost fall as a miss costs more, and of equal cost the lower one is taken', () => {
    const steps = [step(0.2, 60, 0), step(0.4, 20, 4), step(0.6, 0, 8)]
    expect(cheapestMark(steps, 1)).toBe(0.6)
    expect(cheapestMark(steps, 10)).toBe(0.2)
    expect(cheapestMark([step(0.2, 10, 0), step(0.4, 0, 1)], 10)).toBe(0.2)
  })
  test('are not told where no photo with the species has a word', () => {
    expect(cheapestMark([{ ...step(0.2, 3, 0), recall: null }], 10)).toBeNull()
  })
})

describe('shares in words', () => {
  const looked = { drawn: 20, before: 0, hits: 0 }
  test('none found is not none there', () => {
    const told = shareWords({ kind: 'said', share: 0, low: 0, high: 0.16843, ...looked })
    expect(told).toEqual({ main: 'None in 20 looks', small: 'That still allows 16.8 %.' })
  })
  test('too few say how many more would do, and what was seen so far', () => {
    const told = shareWords({ kind: 'not enough checked to say', more: 9, ...looked, before: 3, hits: 19 })
    expect(told.main).toBe('Not enough checked to say')
    expect(told.small).toBe('So far 19 of 20 looks and 3 looked at before; 9 more looks would do.')
  })
  test('small shares keep a tenth', () => {
    expect([0, 0.004, 0.05, 0.5, 1].map(percent)).toEqual(['0 %', '0.4 %', '5 %', '50 %', '100 %'])
  })
  test('a corrected count stands with its range', () => {
    expect(correctedWords({ kind: 'corrected', total: 41.4, low: 8.2, high: 1073.4 })).toEqual({
      main: '41',
      small: '8 to 1,073',
    })
  })
})
