import { describe, expect, it } from 'vitest'
import { parseInstant } from '../../../services/station-time.ts'
import { HEAT_HOURS, type HeatStay, heatStayLimit, heatStaysOf } from '../../../services/tally/heat-stays.ts'
import { LEAST_ENDED } from '../../../services/tally/learned-limit.ts'
import type { Instant, Zone } from '../../../services/words.ts'
import { chanceFrom } from './chance.ts'

const ADELAIDE = 'Australia/Adelaide' as Zone
const visit = (from: string, to: string, peak = 8) => ({
  startedAt: parseInstant(`2026-11-${from}:00+10:30`),
  endedAt: parseInstant(`2026-11-${to}:00+10:30`),
  peak,
})
const hoursOf = (...visits: ReturnType<typeof visit>[]) =>
  heatStaysOf(visits, { leastHead: 5, zone: ADELAIDE }).map(({ hours }) => hours)

describe('a stay in the heat', () => {
  it('is the part of a visit between 11:00 and 17:00', () => {
    expect(hoursOf(visit('24T09:30', '24T11:30'))).toEqual([0.5])
    expect(hoursOf(visit('24T11:15', '24T14:45'))).toEqual([3.5])
    expect(hoursOf(visit('24T16:00', '24T21:00'))).toEqual([1])
    expect(hoursOf(visit('24T08:00', '24T19:00'))).toEqual([HEAT_HOURS])
  })

  it('is none in the evening or before, nor of a beast or two', () => {
    expect(hoursOf(visit('24T17:00', '25T10:30'), visit('24T12:00', '24T15:00', 2))).toEqual([])
  })

  it('is one for each day that a visit spans', () => {
    expect(hoursOf(visit('24T16:00', '25T12:00'))).toEqual([1, 1])
  })
})

describe('hanging on water', () => {
  const stay = (hours: number): HeatStay => ({ from: 0 as Instant, hours, peak: 8 })
  const chance = chanceFrom(6)
  const usual = { stays: Array.from({ length: 60 }, () => stay(0.3 + chance.uniform())), watchedWeeks: 8 }
  const none = { stays: [], watchedWeeks: 8 }

  it('is a stay longer than nearly all before', () => {
    const { hours, learnedFrom } = heatStayLimit({ own: usual, station: none, points: 10 })!
    expect(learnedFrom).toBe('this point')
    expect(hours).toBeGreaterThan(1.2)
    expect(hours).toBeLessThan(4)
  })

  it('is learned from the station where the point has few, and not at all from few', () => {
    const few = { ...usual, stays: usual.stays.slice(0, LEAST_ENDED - 1) }
    expect(heatStayLimit({ own: few, station: usual, points: 10 })!.learnedFrom).toBe('the station')
    expect(heatStayLimit({ own: few, station: few, points: 10 })).toBeNull()
  })

  it('is no news where the mob camps at the water through the heat', () => {
    const camping = { ...usual, stays: usual.stays.map((_, i) => stay(i % 2 ? HEAT_HOURS : 4)) }
    expect(heatStayLimit({ own: camping, station: none, points: 10 })).toBeNull()
  })
})
