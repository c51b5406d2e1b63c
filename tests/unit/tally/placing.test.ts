import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseInstant } from '../../../services/station-time.ts'
import { placeDoubt, placed, pointAt } from '../../../services/tally/placing.ts'
import type { Instant } from '../../../services/words.ts'

const at = (iso: string) => parseInstant(iso)
const still = { id: 5, saidAt: at('2026-11-24T21:30:00+10:30'), ownDoubt: null }
const here = [{ pointId: 1, from: null, to: null }]
const camera = { times: here, shifts: [], presentPointId: 1 }
const shift = {
  fromSaid: at('2026-11-24T00:00:00+10:30'),
  toSaid: at('2026-11-25T00:00:00+10:30'),
  lastStillId: 9,
  seconds: -86_400,
}

describe('where a still belongs', () => {
  it('is the time it came with, where its camera stood then', () => {
    expect(placed(still, camera)).toEqual({ takenAt: still.saidAt, pointId: 1, clockDoubt: null })
  })

  it('is moved by a shift over the time it came with, by each that stands, and by no other', () => {
    const movedBy = (shifts: readonly (typeof shift)[]) =>
      placed(still, { ...camera, shifts }).takenAt - still.saidAt
    expect(movedBy([shift])).toBe(-86_400_000)
    expect(movedBy([shift, { ...shift, seconds: 3_600 }])).toBe(-82_800_000)
    expect(movedBy([{ ...shift, toSaid: at('2026-11-24T21:29:59+10:30') }])).toBe(0)
    expect(movedBy([{ ...shift, lastStillId: 4 }])).toBe(0)
  })

  it('is in doubt by its own clock no longer once a person said when it was taken', () => {
    const doubted = { ...still, ownDoubt: 'the clock is in the future' }
    expect(placed(doubted, camera).clockDoubt).toBe('the clock is in the future')
    expect(placed(doubted, { ...camera, shifts: [{ ...shift, seconds: 0 }] }).clockDoubt).toBeNull()
  })

  it('is in doubt when it was moved to before the camera was put up', () => {
    const times = [{ pointId: 1, from: at('2026-11-24T12:00:00+10:30'), to: null }]
    expect(placed(still, { ...camera, times, shifts: [shift] }).clockDoubt).toBe(
      'before the camera was put up',
    )
  })

  it('follows the camera from point to point, and between two of them is its present point', () => {
    const times = [
      { pointId: 1, from: null, to: at('2026-11-20T12:00:00+10:30') },
      { pointId: 2, from: at('2026-11-22T12:00:00+10:30'), to: null },
    ]
    const pointOf = (iso: string) =>
      placed({ ...still, saidAt: at(iso) }, { ...camera, times, presentPointId: 2 }).pointId
    expect(pointOf('2026-11-20T11:59:59+10:30')).toBe(1)
    expect(pointOf('2026-11-21T12:00:00+10:30')).toBe(2)
    expect(pointAt(times, at('2026-11-21T12:00:00+10:30'))).toBeNull()
  })

  it('does not depend on the order of the shifts, and a shift and its contrary leave it as it was', () => {
    const shifts = fc.array(
      fc.record({
        fromSaid: fc.integer({ min: 0, max: 50 }).map((ms) => (still.saidAt - ms) as Instant),
        toSaid: fc.integer({ min: -5, max: 50 }).map((ms) => (still.saidAt + ms) as Instant),
        lastStillId: fc.integer({ min: 3, max: 7 }),
        seconds: fc.integer({ min: -1e6, max: 1e6 }),
      }),
      { maxLength: 6 },
    )
    fc.assert(
      fc.property(shifts, (some) => {
        const moved = placed(still, { ...camera, shifts: some })
        expect(placed(still, { ...camera, shifts: some.toReversed() })).toEqual(moved)
        const contrary = some.map((one) => ({ ...one, seconds: -one.seconds }))
        expect(placed(still, { ...camera, shifts: [...some, ...contrary] }).takenAt).toBe(still.saidAt)
      }),
    )
  })
})

describe('a time that can’t be right for where the camera stood', () => {
  const times = [
    { from: at('2026-10-01T12:00:00+09:30'), to: at('2026-10-10T12:00:00+10:30') },
    { from: at('2026-10-20T12:00:00+10:30'), to: at('2026-11-20T12:00:00+10:30') },
  ]
  it.each([
    ['2026-10-01T11:44:00+09:30', 'before the camera was put up'],
    // A quarter of an hour that a clock may drift between two visits (common practice, no source).
    ['2026-10-01T11:46:00+09:30', null],
    ['2026-10-15T12:00:00+10:30', null],
    ['2026-11-20T12:14:00+10:30', null],
    ['2026-11-20T12:16:00+10:30', 'after the camera was taken down'],
  ])('%s: %s', (iso, doubt) => {
    expect(placeDoubt(at(iso), times)).toBe(doubt)
  })

  it('is none where it is not known when the camera was put up, nor while it stands', () => {
    expect(placeDoubt(at('2001-10-01T12:00:00+09:30'), [{ from: null, to: null }])).toBeNull()
    expect(placeDoubt(at('2001-10-01T12:00:00+09:30'), [])).toBeNull()
  })
})
