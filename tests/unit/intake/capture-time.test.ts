import { describe, expect, test } from 'vitest'
import { type CaptureClues, captureTime } from '../../../services/intake/capture-time.ts'
import type { CaptureTags } from '../../../services/intake/exif.ts'
import { parseInstant, toStationTime } from '../../../services/station-time.ts'
import type { Instant, Zone } from '../../../services/words.ts'

const adelaide = 'Australia/Adelaide' as Zone
const noTags: CaptureTags = { taken: null, offsetMinutes: null, fault: null }
const bareArrival: CaptureClues = {
  tags: noTags,
  senderAt: null,
  fileName: null,
  fileTime: null,
  arrivedAt: parseInstant('2026-11-25T06:00:00+10:30'),
  zone: adelaide,
  clockErrorSeconds: 0,
}
const exif = (
  year: number,
  month: number,
  day: number,
  hour: number,
  offsetMinutes: number | null = null,
) => ({
  taken: { year, month, day, hour, minute: 30, second: 5 },
  offsetMinutes,
  fault: null,
})
const exifOfLastNight = exif(2026, 11, 24, 21)
const everyClue: CaptureClues = {
  ...bareArrival,
  tags: exif(2026, 11, 24, 21, 0),
  senderAt: parseInstant('2026-11-24T22:00:00+10:30'),
  fileName: 'IMG_20261124_220100.jpg',
  fileTime: parseInstant('2026-11-24T22:02:00+10:30'),
}

function taken(clues: Partial<CaptureClues>) {
  const { takenAt, takenFrom, ownDoubt } = captureTime({ ...bareArrival, ...clues })
  return { at: toStationTime(takenAt, adelaide), from: takenFrom, doubt: ownDoubt }
}

describe('the order in which the clues are trusted', () => {
  test('EXIF with its own offset comes first, whatever the zone of the camera (Exif 2.31)', () => {
    expect(taken(everyClue)).toMatchObject({ at: '2026-11-25T08:00:05+10:30', from: 'exif with offset' })
  })
  test('EXIF without an offset is read in the zone of the camera: half an hour matters', () => {
    expect(taken({ ...everyClue, tags: exifOfLastNight })).toMatchObject({
      at: '2026-11-24T21:30:05+10:30',
      from: 'exif',
    })
    expect(taken({ tags: exifOfLastNight, zone: 'Australia/Brisbane' as Zone }).at).toBe(
      '2026-11-24T22:00:05+10:30',
    )
  })
  test('in winter the same clock stands an hour nearer to UTC', () => {
    const arrivedAt = parseInstant('2026-07-01T12:00:00+09:30')
    expect(taken({ tags: exif(2026, 6, 30, 21), arrivedAt }).at).toBe('2026-06-30T21:30:05+09:30')
  })
  test("without EXIF the sender's own time comes before the name", () => {
    expect(taken({ ...everyClue, tags: noTags })).toMatchObject({
      at: '2026-11-24T22:00:00+10:30',
      from: 'sender',
    })
  })
  test('then a date in the file name', () => {
    expect(taken({ ...everyClue, tags: noTags, senderAt: null })).toMatchObject({
      at: '2026-11-24T22:01:00+10:30',
      from: 'file name',
    })
  })
  test('then the time of the file', () => {
    expect(taken({ ...everyClue, tags: noTags, senderAt: null, fileName: 'DSC01234.JPG' })).toMatchObject({
      at: '2026-11-24T22:02:00+10:30',
      from: 'file time',
    })
  })
  test('then arrival, which is always known', () => {
    expect(taken({})).toEqual({ at: '2026-11-25T06:00:00+10:30', from: 'arrival', doubt: null })
  })
})

describe('the known error of the camera’s clock', () => {
  const dayAhead = { clockErrorSeconds: -86_400 }
  test.each([
    ['exif', { tags: exifOfLastNight }, '2026-11-23T21:30:05+10:30'],
    ['exif with offset', { tags: exif(2026, 11, 24, 21, 630) }, '2026-11-23T21:30:05+10:30'],
    ['file name', { fileName: '20261124_213005.jpg' }, '2026-11-23T21:30:05+10:30'],
    ['file time', { fileTime: parseInstant('2026-11-24T21:30:05+10:30') }, '2026-11-23T21:30:05+10:30'],
  ])('is taken out of what the camera wrote: %s', (from, clues, at) => {
    expect(taken({ ...clues, ...dayAhead })).toMatchObject({ from, at })
  })
  test.each([
    ['sender', { senderAt: parseInstant('2026-11-24T21:30:05+10:30') }, '2026-11-24T21:30:05+10:30'],
    ['arrival', {}, '2026-11-25T06:00:00+10:30'],
  ])('does not touch other clocks: %s', (from, clues, at) => {
    expect(taken({ ...clues, ...dayAhead })).toMatchObject({ from, at })
  })
  test('a clock a day ahead is in no doubt once its error is known', () => {
    const clues = { tags: exif(2026, 11, 26, 5) }
    expect(taken(clues).doubt).toBe('the clock is in the future')
    expect(taken({ ...clues, ...dayAhead }).doubt).toBeNull()
  })
})

describe('clocks in doubt', () => {
  test('a still from the future is doubted', () => {
    expect(taken({ tags: exif(2026, 12, 24, 21) }).doubt).toBe('the clock is in the future')
  })
  test('a clock that drifted a few minutes ahead is not (a quarter of an hour: common practice, no source)', () => {
    expect(taken({ senderAt: (bareArrival.arrivedAt + 14 * 60_000) as Instant }).doubt).toBeNull()
    expect(taken({ senderAt: (bareArrival.arrivedAt + 16 * 60_000) as Instant }).doubt).not.toBeNull()
  })
  test.each([1970, 2000, 2010, 2015, 2018, 2020])('the first day of %i is a factory date', (year) => {
    expect(taken({ tags: exif(year, 1, 1, 3) }).doubt).toMatch(/flat battery/)
  })
  test('a file written by a clock that started from nothing is doubted in any zone', () => {
    const clues = { fileTime: 0 as Instant, zone: 'America/Denver' as Zone }
    expect(taken(clues).doubt).toMatch(/flat battery/)
  })
  test('a factory date is known before the clock’s error is taken out', () => {
    expect(taken({ tags: exif(2020, 1, 1, 3), clockErrorSeconds: 86_400 }).doubt).toMatch(/flat battery/)
  })
  test('the second of January of the same year is a day like others', () => {
    expect(taken({ tags: exif(2020, 1, 2, 3) }).doubt).toBeNull()
  })
})

describe('times that no calendar here can hold (nights have years of four digits)', () => {
  const inDoubt = { at: '2026-11-25T06:00:00+10:30', from: 'arrival', doubt: 'the clock is in the future' }
  test.each([
    ['exif', { tags: exif(9998, 12, 31, 21) }],
    ['exif with offset', { tags: exif(9998, 12, 31, 21, -840) }],
  ])('%s that its clock error carries past the year 9998: arrival, in doubt', (_from, clues) => {
    // The largest error that a camera may be given is 400 days (services/http/doors.ts).
    expect(taken({ ...clues, clockErrorSeconds: 400 * 86_400 })).toEqual(inDoubt)
  })
  test.each([
    ['of the year 9999', Date.UTC(9999, 11, 31), 'the clock is in the future'],
    ['of the year 10000', Date.UTC(10_000, 0, 1), 'the clock is in the future'],
    ['past all dates', 9e15, 'the clock is in the future'],
    ['before the year 1', Date.UTC(-1, 0, 1), 'the clock shows a time before there were such cameras'],
  ])('a file time %s: arrival, in doubt', (_when, fileTime, doubt) => {
    expect(taken({ fileTime: fileTime as Instant })).toEqual({ ...inDoubt, doubt })
  })
  test('the last day of the year 9998 can be held, and is doubted as any day in the future', () => {
    expect(taken({ tags: exif(9998, 12, 31, 21) })).toEqual({
      at: '9998-12-31T21:30:05+10:30',
      from: 'exif',
      doubt: 'the clock is in the future',
    })
  })
})

describe('nights in which clocks change (Adelaide: back on 5 April 2026, forward on 4 October 2026)', () => {
  test('of an hour that came twice the earlier is taken, and that is no doubt', () => {
    expect(taken({ tags: exif(2026, 4, 5, 2) })).toEqual({
      at: '2026-04-05T02:30:05+10:30',
      from: 'exif',
      doubt: null,
    })
  })
  test('an hour that never came is carried on past the change, and that is no doubt', () => {
    expect(taken({ tags: exif(2026, 10, 4, 2) })).toEqual({
      at: '2026-10-04T03:30:05+10:30',
      from: 'exif',
      doubt: null,
    })
  })
})
