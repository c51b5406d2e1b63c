import { describe, expect, test } from 'vitest'
import { type NotebookNight, notebookSpell } from '../../../services/tally/notebook.ts'
import { notebookSpan } from '../../../services/tally/notebook-span.ts'
import type { NightDate } from '../../../services/words.ts'

const night = (day: number, fields: Partial<NotebookNight>): NotebookNight => ({
  night: `2025-11-${String(day).padStart(2, '0')}` as NightDate,
  head: 0,
  visits: null,
  watched: null,
  ...fields,
})

describe('a notebook’s nights together', () => {
  test('nights with none count as nights with none', () => {
    expect(
      notebookSpell([night(1, { head: 6 }), night(2, { head: 0 }), night(3, { head: 3 })]),
    ).toMatchObject({
      nights: 3,
      nightsSeen: 2,
      most: 6,
      headANight: 3,
    })
  })
  test('a night watched for less than half is in no mean of the most at once', () => {
    const spell = notebookSpell([night(1, { head: 6, watched: 0.5 }), night(2, { head: 0, watched: 0.49 })])
    expect(spell).toMatchObject({ headANight: 6, headNights: 1, most: 6, nights: 2 })
  })
  test('a rate of visits is made of nights that tell both visits and watching', () => {
    const spell = notebookSpell([
      night(1, { head: 6, visits: 2, watched: 0.5 }),
      night(2, { head: 6, visits: 9 }),
      night(3, { head: 0, watched: 1 }),
      night(4, { head: 0, visits: 0, watched: 1 }),
      night(5, { head: 2, visits: 1, watched: 0 }),
    ])
    expect(spell).toMatchObject({ visits: 2, watchedNights: 1.5 })
  })
  test('where none does there is no rate, and no night is no mean', () => {
    expect(notebookSpell([night(1, { head: 6 })])).toMatchObject({ visits: null, watchedNights: null })
    expect(notebookSpell([])).toMatchObject({ headANight: null, nights: 0, most: 0 })
  })
})

describe('what five weeks of cameras are held against', () => {
  const cameras = { from: '2026-10-19' as NightDate, to: '2026-11-22' as NightDate }
  const spanFor = (...nights: readonly string[]) => notebookSpan(nights as NightDate[], cameras)
  test('the same weeks a year before, on the same weekdays', () => {
    expect(spanFor('2025-10-20', '2026-09-01')).toEqual({
      from: '2025-10-20',
      to: '2025-11-23',
      yearsBack: 1,
    })
  })
  test('of two years before, where the year before has none of them', () => {
    expect(spanFor('2024-11-01', '2025-12-01')).toEqual({
      from: '2024-10-21',
      to: '2024-11-24',
      yearsBack: 2,
    })
  })
  test('else the last five weeks of the notebook, and it says that they are another season', () => {
    expect(spanFor('2026-06-01', '2026-08-09')).toEqual({
      from: '2026-07-06',
      to: '2026-08-09',
      yearsBack: null,
    })
  })
  test('never the very nights that cameras watched, nor later ones', () => {
    expect(spanFor('2026-10-19', '2026-11-22', '2026-12-01')).toBeNull()
  })
})
