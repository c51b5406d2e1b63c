/** iCalendar, held against the grammar of RFC 5545 as written out here: no package of this project reads it. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CalendarEvent, iCalendarOf } from '../../../../services/planning/exports/icalendar.ts'
import type { Instant, NightDate } from '../../../../services/words.ts'
import { anyText } from './any-text.ts'

const madeAt = Date.UTC(2026, 10, 24, 2, 30, 5) as Instant
const write = (...events: CalendarEvent[]) => iCalendarOf(events, { name: 'Camels', madeAt })

const hasControl = (line: string) => /(?!\t)\p{Control}/u.test(line)

/** Section 3.1: content lines, unfolded; each raw line at most 75 octets, ended by CRLF, of characters that may stand there. */
function linesOf(file: string): Array<{ name: string; parameters: string; value: string }> {
  expect(file.endsWith('\r\n')).toBe(true)
  const wrong = file
    .slice(0, -2)
    .split('\r\n')
    .filter((raw) => Buffer.byteLength(raw) > 75 || hasControl(raw) || Buffer.from(raw).toString() !== raw)
  expect(wrong).toEqual([])
  return file
    .slice(0, -2)
    .replaceAll('\r\n ', '')
    .split('\r\n')
    .map((line) => {
      const [, name, parameters, value] = /^([A-Z-]+)((?:;[A-Z-]+=[^:;,"]*)*):(.*)$/su.exec(line) ?? []
      if (name === undefined) throw new Error(`no content line: ${line}`)
      return { name, parameters: parameters!, value: value! }
    })
}

/** Section 3.3.11, the other way round. @throws where a character should have been escaped */
function textOf(value: string): string {
  const match = /^(?:\\[\\;,nN]|[^\\;,])*$/u.exec(value)
  if (match === null) throw new Error(`no TEXT: ${value}`)
  return value.replace(/\\(.)/gu, (_, char: string) => (char === 'n' || char === 'N' ? '\n' : char))
}

const day: CalendarEvent = {
  uid: 'program-4-day-1@hooftally',
  when: { kind: 'days', from: '2026-12-31' as NightDate, to: '2026-12-31' as NightDate },
  summary: 'Set the trap; Kite Bore, then Galah Well',
  text: 'One\nTwo \\ three',
  where: 'Kite Bore',
  place: { lat: -28.373, lon: 134.241 },
}

describe('a calendar', () => {
  it('of one day is this', () => {
    expect(write(day).split('\r\n')).toEqual([
      'BEGIN:VCALENDAR',
      'VERSION:2.0',
      'PRODID:-//Hooftally//Hooftally//EN',
      'NAME:Camels',
      'BEGIN:VEVENT',
      'UID:program-4-day-1@hooftally',
      'DTSTAMP:20261124T023005Z',
      'DTSTART;VALUE=DATE:20261231',
      'DTEND;VALUE=DATE:20270101',
      'SUMMARY:Set the trap\\; Kite Bore\\, then Galah Well',
      'DESCRIPTION:One\\nTwo \\\\ three',
      'LOCATION:Kite Bore',
      'GEO:-28.373;134.241',
      'END:VEVENT',
      'END:VCALENDAR',
      '',
    ])
  })

  it('has hours in UTC', () => {
    const from = Date.UTC(2026, 11, 3, 10, 30) as Instant
    const names = linesOf(write({ ...day, when: { kind: 'hours', from, to: (from + 5_400_000) as Instant } }))
    expect(names.find(({ name }) => name === 'DTSTART')).toEqual({
      name: 'DTSTART',
      parameters: '',
      value: '20261203T103000Z',
    })
    expect(names.find(({ name }) => name === 'DTEND')!.value).toBe('20261203T120000Z')
  })

  it('folds long lines at 75 octets, the blank before the rest among them', () => {
    const [first, second, third] = write({ ...day, summary: 'x'.repeat(200) })
      .split('\r\n')
      .filter((line) => line.includes('xxx'))
    // "SUMMARY:" and 67; a blank and 74; the 59 that are left.
    expect([first, second, third]).toEqual([
      `SUMMARY:${'x'.repeat(67)}`,
      ` ${'x'.repeat(74)}`,
      ` ${'x'.repeat(59)}`,
    ])
  })

  it('folds long lines without cutting a character', () => {
    const lines = linesOf(write({ ...day, summary: 'ü'.repeat(80) + '🐪'.repeat(30) }))
    expect(textOf(lines.find(({ name }) => name === 'SUMMARY')!.value)).toBe('ü'.repeat(80) + '🐪'.repeat(30))
  })

  it('holds whatever people write, in the components’ order with what each must have once (section 3.6.1)', () => {
    const words = fc.oneof(anyText(200), fc.constantFrom('a\r\nb', '\ud800x', 'BEGIN:VEVENT\r\nX', '\\n'))
    fc.assert(
      fc.property(words, words, fc.option(words), (summary, text, where) => {
        const lines = linesOf(write({ ...day, summary, text, where }, { ...day, uid: 'other' }))
        const names = lines.map(({ name, value }) =>
          name === 'BEGIN' || name === 'END' ? `${name}:${value}` : name,
        )
        expect(names.filter((name) => name === 'BEGIN:VEVENT')).toHaveLength(2)
        for (const once of ['UID', 'DTSTAMP', 'DTSTART', 'DTEND', 'SUMMARY'])
          expect(names.filter((name) => name === once)).toHaveLength(2)
        const kept = summary
          .replace(/\p{Surrogate}/gu, '')
          .replace(/\r\n|\r/g, '\n')
          .replace(/(?![\t\n])\p{Control}/gu, '')
        expect(textOf(lines.find(({ name }) => name === 'SUMMARY')!.value)).toBe(kept)
      }),
      { numRuns: 100 },
    )
  })

  it('has no event that ends before it begins', () => {
    const at = madeAt
    expect(() => write({ ...day, when: { kind: 'hours', from: at, to: at } })).toThrow(RangeError)
    expect(() =>
      write({
        ...day,
        when: { kind: 'days', from: '2026-12-02' as NightDate, to: '2026-12-01' as NightDate },
      }),
    ).toThrow(RangeError)
  })
})
