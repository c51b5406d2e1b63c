import { describe, expect, test } from 'vitest'
import { putUpProposed, takenDownProposed } from '../../../../web/screens/card/proposed-times.ts'

const SPAN = { first: '2026-11-03T14:20:00+10:30', last: '2026-11-24T06:00:00+10:30' }
const time = (from: string | null, to: string | null = null, pointId = 3) => ({
  pointId,
  pointName: 'Kite Bore',
  from,
  to,
})

describe('put up', () => {
  test('with the first photo, where nobody said when', () => {
    expect(putUpProposed([time(null)], SPAN)).toMatchObject({
      from: SPAN.first,
      to: null,
      times: [{ pointId: 3, from: SPAN.first, to: null }],
    })
  })
  test('with the first photo, where it was said to be later', () => {
    expect(putUpProposed([time('2026-11-10T00:00:00+10:30')], SPAN)?.from).toBe(SPAN.first)
  })
  test('as it was said, where the card begins later', () => {
    expect(putUpProposed([time('2026-11-01T00:00:00+10:30')], SPAN)).toBeNull()
    // The same instant in another offset.
    expect(putUpProposed([time('2026-11-03T03:50:00Z')], SPAN)).toBeNull()
  })
  test('times at other points after it stay as they are', () => {
    const second = time('2026-11-20T00:00:00+10:30', null, 5)
    expect(putUpProposed([time(null, '2026-11-20T00:00:00+10:30'), second], SPAN)?.times).toEqual([
      { pointId: 3, from: SPAN.first, to: '2026-11-20T00:00:00+10:30' },
      { pointId: 5, from: second.from, to: null },
    ])
  })
  test('not where it would have been taken down before', () => {
    expect(
      putUpProposed([time(null, '2026-10-01T00:00:00+10:30'), time('2026-11-01T00:00:00+10:30')], SPAN),
    ).toBeNull()
  })
})

describe('taken down', () => {
  test('with the last photo, and put up with the first where that is not known', () => {
    expect(takenDownProposed([time(null)], SPAN)?.times).toEqual([
      { pointId: 3, from: SPAN.first, to: SPAN.last },
    ])
  })
  test('when it was put up stays where the card begins later', () => {
    const since = '2026-11-01T00:00:00+10:30'
    expect(takenDownProposed([time(since)], SPAN)).toMatchObject({ from: since, to: SPAN.last })
  })
  test('not where it is down already', () => {
    expect(takenDownProposed([time(null, '2026-11-20T00:00:00+10:30')], SPAN)).toBeNull()
  })
  test('a camera that was moved begins at its new point as was said; a card from before is no reason to change that', () => {
    const moved = [time(null, '2026-11-10T00:00:00+10:30'), time('2026-11-10T00:00:00+10:30', null, 5)]
    expect(takenDownProposed(moved, SPAN)).toBeNull()
  })
  test('not by a card that ends before the camera was put up', () => {
    expect(
      takenDownProposed([time('2026-12-01T00:00:00+10:30')], { first: SPAN.first, last: SPAN.first }),
    ).toBeNull()
  })
})
