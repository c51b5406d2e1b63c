import { describe, expect, test } from 'vitest'
import { reportHtml } from '../../../services/report/html.ts'
import { mailOf } from '../../../services/report/mail.ts'
import { comparedOf, weekOf, weekRow } from './week.ts'

const more = weekRow({ fourWeeks: comparedOf({ verdict: 'more' }) })

describe('the printed week', () => {
  const page = reportHtml(weekOf({ rows: [more] }))
  test('says what changed, what was not watched, and the words of safety', () => {
    for (const words of [
      'More camels at Kite Bore: 14 visits',
      'not watched, so nobody can say what came',
      'least number seen',
      'Never close a water',
      'Feral does not mean ownerless',
      'from memory, check locally',
    ])
      expect(page).toContain(words)
  })
  test('needs nothing from anywhere, and runs nothing', () => {
    expect(page).not.toMatch(/<(script|link|img|iframe)|https?:|url\(|@import/)
  })
  test('names are text, whatever is in them', () => {
    expect(page).toContain('Test &lt;Station&gt;')
    expect(page).toContain('Old &amp; Far Tank')
    expect(page).not.toContain('<Station>')
  })
  test('a species that nobody saw has no column, though a CSV has a row for it', () => {
    const unseen = weekRow({
      species: 'goat',
      visits: 0,
      lastWeek: comparedOf({ visits: 0 }),
      fourWeeks: comparedOf({ visits: 0 }),
    })
    const species = [...weekOf().species, { ...weekOf().species[1]!, species: 'goat' as const, visits: 0 }]
    expect(reportHtml(weekOf({ rows: [more, unseen], species }))).not.toContain('Goat')
  })
})

describe('the week as a mail', () => {
  const mail = mailOf(weekOf({ rows: [more], toCheck: 3 }))
  test('has what changed in its text, what is missing, and no mark-up', () => {
    expect(mail.subject).toBe('Test <Station>: grazing pressure, 2026-W46')
    expect(mail.text).toContain('- More camels at Kite Bore')
    expect(mail.text).toContain('Old & Far Tank: not watched')
    expect(mail.text).toContain('3 flagged photos still to check')
    expect(mail.text).not.toMatch(/<p>|&amp;/)
  })
  test('brings the page, the numbers and what their columns are', () => {
    expect(mail.attachments.map(({ name, type }) => [name, type])).toEqual([
      ['grazing-pressure-2026-W46.html', 'text/html'],
      ['grazing-pressure-2026-W46.csv', 'text/csv'],
      ['grazing-pressure-units.csv', 'text/csv'],
    ])
    expect(mail.attachments[1]!.content.split('\r\n')).toHaveLength(3)
  })
})
