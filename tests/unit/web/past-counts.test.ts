import { describe, expect, test } from 'vitest'
import type { PastCountsCompared } from '../../../services/http/past-count-shapes.ts'
import {
  changeWords,
  comparedLine,
  mostWords,
  visitsWords,
  watchedPart,
} from '../../../web/text/past-counts.ts'

const side = { headANight: 4.24, headNights: 31, most: 12, visits: 5, watchedNights: 2.5 }

describe('a side of the comparison', () => {
  test('tells its mean with the nights behind it', () => {
    expect(mostWords(side)).toBe('4.2 on average, 12 at most, 31 nights')
    expect(visitsWords(side)).toBe('5 in 2.5 nights watched')
  })
  test('that was not watched is not none', () => {
    expect(mostWords({ ...side, headANight: null, headNights: 0 })).toBe('not watched')
    expect(visitsWords({ ...side, visits: 0, watchedNights: 0 })).toBe('not watched')
  })
  test('what the notebook does not say is not said', () => {
    expect(visitsWords({ ...side, visits: null })).toBe('not said')
    expect(watchedPart(null)).toBe('not said')
    expect(watchedPart(0.25)).toBe('0.25')
  })
})

describe('a change', () => {
  const change = { verdict: 'more' as const, ratio: 2, low: 0.94, high: 4.31 }
  test('is told with its limits', () => {
    expect(changeWords(change)).toBe('more: 2.0 times (0.9 to 4.3)')
    expect(changeWords({ ...change, high: null })).toBe('more: 2.0 times (0.9 to no end)')
  })
  test('is no number where there are too few nights or nothing came before', () => {
    expect(changeWords({ ...change, verdict: 'too few nights to tell' })).toBe('too few nights to tell')
    expect(changeWords({ ...change, ratio: null })).toBe('more')
    expect(changeWords(null)).toBe('not compared')
  })
})

describe('what is held against what', () => {
  const compared = (yearsBack: number | null): PastCountsCompared => ({
    week: '2026-W47',
    cameras: { from: '2026-10-19', to: '2026-11-22' },
    notebook: { from: '2025-10-20', to: '2025-11-23', yearsBack, files: [] },
    rows: [],
  })
  test('says both spans and whether the season is the same', () => {
    const spans =
      'Cameras, Mon 19 Oct 2026 to Sun 22 Nov 2026, held against the notebook, Mon 20 Oct 2025 to Sun 23 Nov 2025'
    expect(comparedLine(compared(1))).toBe(`${spans}: the same weeks a year before.`)
    expect(comparedLine(compared(3))).toBe(`${spans}: the same weeks 3 years before.`)
    expect(comparedLine(compared(null))).toBe(`${spans}.`)
  })
})
