/** Which nights a target list rests on, how far a program has come, and what held animals want. */
import { describe, expect, it } from 'vitest'
import { nightsBefore } from '../../../services/planning/program-nights.ts'
import { programState } from '../../../services/planning/program-state.ts'
import { toBring } from '../../../services/planning/what-to-bring.ts'
import { parseInstant } from '../../../services/station-time.ts'
import { DEFAULT_RATINGS } from '../../../services/tally/default-ratings.ts'
import { nightsBetween } from '../../../services/tally/nights.ts'
import type { NightDate, Zone } from '../../../services/words.ts'

const zone = 'Australia/Adelaide' as Zone
const night = (date: string) => date as NightDate

describe('the nights a list rests on', () => {
  const at = (now: string, first: string) => nightsBefore(night(first), { now: parseInstant(now), zone })

  it('are 28, the last one over; the one that is going on is not among them', () => {
    expect(at('2026-11-25T11:59:00+10:30', '2026-12-07')).toEqual({ from: '2026-10-27', to: '2026-11-23' })
    expect(at('2026-11-25T12:00:00+10:30', '2026-12-07')).toEqual({ from: '2026-10-28', to: '2026-11-24' })
  })

  it('end before the program does begin', () => {
    expect(at('2026-12-25T12:00:00+10:30', '2026-12-07')).toEqual({ from: '2026-11-09', to: '2026-12-06' })
  })

  it('are 28 whatever the clocks do', () => {
    // Clocks in this zone go forward on 4 October 2026 and back on 5 April 2026.
    for (const now of [
      '2026-10-05T13:00:00+10:30',
      '2026-10-20T01:00:00+10:30',
      '2026-04-06T13:00:00+09:30',
      '2026-05-01T01:00:00+09:30',
    ]) {
      const { from, to } = at(now, '2027-01-01')
      expect(nightsBetween(from, to)).toHaveLength(28)
    }
  })
})

describe('how far a program has come', () => {
  const program = {
    fromNight: night('2026-12-07'),
    toNight: night('2026-12-09'),
    finished: false,
    dropped: false,
  }
  it.each([
    ['2026-12-06', 'planned'],
    ['2026-12-07', 'going on'],
    ['2026-12-09', 'going on'],
    ['2026-12-10', 'nights are over'],
  ])('on the night of %s it is %s', (tonight, state) => {
    expect(programState(program, night(tonight))).toBe(state)
  })
  it('what people said of it goes before its nights', () => {
    expect(programState({ ...program, finished: true }, night('2026-12-01'))).toBe('finished')
    expect(programState({ ...program, dropped: true }, night('2026-12-08'))).toBe('dropped')
  })
})

describe('what held animals want', () => {
  const ratings = DEFAULT_RATINGS.camel
  const head = (high: number) => ({ low: 0, rate: high / 2, high })
  const bring = (expected: Parameters<typeof toBring>[0], method = 'trap yard') =>
    toBring(expected, { method, ratings })

  it('is for the high end, or the largest group where that is more', () => {
    expect(bring({ head: head(6.2), largestGroup: 4 })).toEqual({
      head: 7,
      litresADay: 7 * ratings.litres.high,
    })
    expect(bring({ head: head(6.2), largestGroup: 12 })).toEqual({
      head: 12,
      litresADay: 12 * ratings.litres.high,
    })
  })
  it('is told for any method that may hold them, and for none that does not', () => {
    expect(bring({ head: head(3), largestGroup: 0 }, 'Portable panels')).not.toBeNull()
    expect(bring({ head: head(3), largestGroup: 0 }, ' Aerial ')).toBeNull()
    expect(bring({ head: head(3), largestGroup: 0 }, 'ground')).toBeNull()
  })
  it('is not told where nobody knows how many come', () => {
    expect(bring({ head: null, largestGroup: 0 })).toBeNull()
  })
})
