import { describe, expect, test } from 'vitest'
import { readPastCountsFile } from '../../../services/http/past-counts-file.ts'
import { Refusal } from '../../../services/refusal.ts'
import type { NightDate } from '../../../services/words.ts'

const frame = {
  points: [
    { id: 3, name: 'Kite Bore' },
    { id: 5, name: 'Galah Well' },
  ],
  lastNight: '2026-11-24' as NightDate,
}
const read = (text: string) => readPastCountsFile(text, frame)
const fieldOf = (text: string): string | undefined => {
  try {
    read(text)
  } catch (fault) {
    if (fault instanceof Refusal) return fault.field
    throw fault
  }
  return undefined
}
const file = (...rows: readonly string[]) =>
  ['point,night,species,head,visits,watched,note', ...rows].join('\n')

describe('a file of counts', () => {
  test('is read row by row', () => {
    expect(
      read(file('Kite Bore,2025-11-03,camel,12,2,0.5,"at dusk, thin"', 'Galah Well,2025-11-03,goat,0,,,')),
    ).toEqual([
      {
        ...{ row: 1, pointId: 3, night: '2025-11-03', species: 'camel', head: 12 },
        ...{ visits: 2, watched: 0.5, note: 'at dusk, thin' },
      },
      {
        ...{ row: 2, pointId: 5, night: '2025-11-03', species: 'goat', head: 0 },
        ...{ visits: null, watched: null, note: null },
      },
    ])
  })
  test('as a spreadsheet may write it: marks at its start, semicolons, other heads, decimal commas', () => {
    const text = '\ufeffPoint;Date;Animal;Count;Watched\r\nkite bore;2025-11-03;Camels;4;0,25\r\n;;;;\r\n'
    expect(read(text)).toMatchObject([{ pointId: 3, species: 'camel', head: 4, watched: 0.25 }])
  })
})

describe('what is wrong is told at its row and column', () => {
  const good = 'Kite Bore,2025-11-02,camel,1,,,'
  test.each([
    ['row 2.point', 'Nowhere Dam,2025-11-03,camel,12,,,'],
    ['row 2.point', ',2025-11-03,camel,12,,,'],
    ['row 2.night', 'Kite Bore,3/11/2025,camel,12,,,'],
    ['row 2.night', 'Kite Bore,2025-02-30,camel,12,,,'],
    ['row 2.night', 'Kite Bore,2026-11-25,camel,12,,,'],
    ['row 2.night', 'Kite Bore,1969-11-25,camel,12,,,'],
    ['row 2.species', 'Kite Bore,2025-11-03,emu,12,,,'],
    ['row 2.head', 'Kite Bore,2025-11-03,camel,,,,'],
    ['row 2.head', 'Kite Bore,2025-11-03,camel,a few,,,'],
    ['row 2.head', 'Kite Bore,2025-11-03,camel,-1,,,'],
    ['row 2.visits', 'Kite Bore,2025-11-03,camel,3,0.5,,'],
    ['row 2.visits', 'Kite Bore,2025-11-03,camel,0,2,,'],
    ['row 2.watched', 'Kite Bore,2025-11-03,camel,3,,1.5,'],
    ['row 2.watched', 'Kite Bore,2025-11-03,camel,3,,12 h,'],
    ['row 2.night', 'kite bore,2025-11-02,camels,2,,,'],
  ])('%s: %s', (field, row) => expect(fieldOf(file(good, row))).toBe(field))
  test('two parts of one night that was watched once', () => {
    expect(fieldOf(file('Kite Bore,2025-11-03,camel,1,,0.5,', 'Kite Bore,2025-11-03,goat,1,,1,'))).toBe(
      'row 2.watched',
    )
  })
  test('a comma that is in no quotes, at its row', () => {
    const good = 'Kite Bore,2025-11-02,camel,1,,,'
    expect(
      fieldOf(file(good, good.replace('02', '03'), 'Kite Bore,2025-11-04,camel,1,,,at dusk, thin')),
    ).toBe('row 3')
  })
  test('a column that nobody knows', () => {
    expect(fieldOf('point,night,species,head,colour\nKite Bore,2025-11-03,camel,1,red')).toBe('row 1.colour')
  })
  test.each(['', 'point,night,species,head', 'point,night\n"Kite'])('no table: %j', (text) =>
    expect(fieldOf(text)).toBe('file'),
  )
  test('a visit without a head is told of, and one of none is none', () => {
    expect(fieldOf(file('Kite Bore,2025-11-03,camel,0,0,1,'))).toBeUndefined()
  })
})
