/** No water is proposed for closing before other water for stock and wildlife is sure. */
import { describe, expect, it } from 'vitest'
import {
  keptOpenFor,
  lackAt,
  lackForProposal,
  type OtherWaters,
  type OtherWaterWord,
  otherWaterState,
} from '../../../services/planning/other-water.ts'
import { parseInstant } from '../../../services/station-time.ts'
import type { Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const now = parseInstant('2026-12-20T08:00:00+10:30')
const asked = { now, zone, latitude: -28 }
const word = (pointId: number, change: Partial<OtherWaterWord> = {}): OtherWaterWord => ({
  pointId,
  at: parseInstant('2026-12-01T08:00:00+10:30'),
  who: 'Robin',
  isSure: true,
  openPointIds: [],
  elsewhere: null,
  ...change,
})
const waters = (words: readonly OtherWaterWord[], without: readonly number[] = []): OtherWaters => ({
  words: new Map(words.map((one) => [one.pointId, one])),
  withoutWater: new Set(without),
  asked,
})

describe('a word on other water', () => {
  it('stands for 90 days of a half-year, and then the owner is asked again', () => {
    const said = (at: string) => otherWaterState(word(1, { at: parseInstant(at) }), asked)
    expect(said('2026-10-05T08:00:00+10:30')).toBe('sure')
    // 20 December less 90 days is 21 September; but the hot half-year began on 1 October.
    expect(said('2026-09-30T08:00:00+09:30')).toBe('ask again')
    const later = { ...asked, now: parseInstant('2027-03-02T08:00:00+10:30') }
    expect(otherWaterState(word(1), later)).toBe('ask again')
    expect(otherWaterState(word(1, { at: parseInstant('2026-12-03T08:00:00+10:30') }), later)).toBe('sure')
  })

  it('that was never said, or was taken back, is none', () => {
    expect(otherWaterState(undefined, asked)).toBe('not said')
    expect(otherWaterState(word(1, { isSure: false }), asked)).toBe('taken back')
  })
})

describe('a water that is to be closed', () => {
  it('lacks nothing where one of its other waters stays open and has water', () => {
    const both = waters([word(1, { openPointIds: [2, 3] })], [2])
    expect(lackAt(1, [1], both)).toBeNull()
    expect(lackAt(1, [1, 3], both)).toBe('off or dry')
    expect(lackAt(1, [1, 2, 3], both)).toBe('closed as well')
    expect(lackAt(1, [1], waters([word(1, { openPointIds: [2] })], [2]))).toBe('off or dry')
  })

  it('lacks nothing where there is other water that is no point', () => {
    expect(
      lackAt(1, [1, 2], waters([word(1, { openPointIds: [2], elsewhere: 'the river' })], [2])),
    ).toBeNull()
  })

  it('is not proposed while it is kept open for another, for as long as that word stands', () => {
    const kept = waters([word(1, { openPointIds: [2] }), word(2, { elsewhere: 'the river' })])
    expect(lackForProposal(2, kept)).toBe('kept open')
    expect(keptOpenFor(2, kept)).toEqual([1])
    expect(lackForProposal(1, kept)).toBeNull()
    const takenBack = waters([
      word(1, { openPointIds: [2], isSure: false }),
      word(2, { elsewhere: 'the river' }),
    ])
    expect(lackForProposal(2, takenBack)).toBeNull()
  })

  it('and all that are proposed have an open water left, whichever are closed together', () => {
    const words = [1, 2, 3, 4].map((id) => word(id, { openPointIds: [(id % 4) + 1, 9] }))
    const ring = waters(words)
    // Each keeps the next one open, so none of the ring is proposed.
    expect([1, 2, 3, 4].map((id) => lackForProposal(id, ring))).toEqual(Array(4).fill('kept open'))
  })
})
