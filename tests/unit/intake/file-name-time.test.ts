import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fileNameTime } from '../../../services/intake/file-name-time.ts'

describe('a date in a file name', () => {
  test.each([
    '20261124_213005.jpg',
    'IMG_20261124_213005.jpg',
    'IMG_20261124_213005123.jpg',
    '2026-11-24 21.30.05.jpg',
    '2026-11-24_21-30-05.JPG',
    '2026_11_24-21_30_05_0007.jpg',
    'KITE-BORE_01_20261124213005_MOTION.jpg',
    'card 3\\DCIM\\P20261124-213005.jpg',
    '2019-01-05 copy/20261124T213005.webp',
  ])('%s says half past nine in the evening', (name) => {
    expect(fileNameTime(name)).toEqual({
      wall: { year: 2026, month: 11, day: 24, hour: 21, minute: 30, second: 5 },
      utc: false,
    })
  })
  test('a Z after the time means UTC', () => {
    expect(fileNameTime('20261124T110005Z.jpg')?.utc).toBe(true)
  })
  test.each([
    ['a number in a series', 'DSC01234.JPG'],
    ['a long number', '12020261124213005.jpg'],
    ['a date without a time', '2026-11-24.jpg'],
    ['a month that is none', 'IMG_20261324_213005.jpg'],
    ['a day that this year lacks', '20250229_213005.jpg'],
    ['an hour that is none', '20261124_243005.jpg'],
    ['nothing', ''],
  ])('%s says nothing', (_, name) => {
    expect(fileNameTime(name)).toBeNull()
  })
  test('every second of these years is read back from its name', () => {
    const years = { min: new Date('2000-01-01'), max: new Date('2098-12-31'), noInvalidDate: true }
    fc.assert(
      fc.property(fc.date(years), (date) => {
        const name = `${date.toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '_')}.jpg`
        const { year, month, day, hour, minute, second } = fileNameTime(name)!.wall
        expect(Date.UTC(year, month - 1, day, hour, minute, second)).toBe(
          Math.floor(date.getTime() / 1000) * 1000,
        )
      }),
    )
  })
})
