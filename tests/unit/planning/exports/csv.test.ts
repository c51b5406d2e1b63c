/** CSV, read back by an independent reader (csv-parse). */
import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { csvOf } from '../../../../services/planning/exports/csv.ts'
import { anyText } from './any-text.ts'

const field = fc.oneof(
  anyText(),
  fc.constantFrom('a,b', '"', 'x\r\ny', '=1+1', '@x'),
  fc.integer(),
  fc.constant(null),
)

it('is read back as it was written, whatever people write', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(field, field, field), { maxLength: 6 }), (records) => {
      const read = parse(csvOf(['one', 'two', 'three'], records), {
        record_delimiter: '\r\n',
        relax_column_count: false,
      }) as string[][]
      const expected = records.map((record) =>
        record.map((value) => {
          if (value === null) return ''
          const text = typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value)
          // UTF-8 has no half of a pair: it comes back as U+FFFD.
          return Buffer.from(text).toString()
        }),
      )
      expect(read).toEqual([['one', 'two', 'three'], ...expected])
    }),
  )
})

it('quotes what needs it and ends each record with CRLF', () => {
  expect(
    csvOf(
      ['point', 'head'],
      [
        ['Bore, north', 3.5],
        ['say "so"', null],
        ['=x', -2],
      ],
    ),
  ).toBe('point,head\r\n"Bore, north",3.5\r\n"say ""so""",\r\n\'=x,-2\r\n')
})

it('refuses a record of another length, and what is no number', () => {
  expect(() => csvOf(['one'], [[1, 2]])).toThrow(RangeError)
  expect(() => csvOf(['one'], [[Number.NaN]])).toThrow(RangeError)
})
