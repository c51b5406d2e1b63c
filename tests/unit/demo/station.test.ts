import { describe, expect, test } from 'vitest'
import { demoSpell } from '../../../services/demo/days.ts'
import { demoStates } from '../../../services/demo/states.ts'
import {
  demoCameraInput,
  demoHomestead,
  demoPointInput,
  demoPoints,
  demoStation,
} from '../../../services/demo/station.ts'
import { cameraDoor, pointDoor, stationDoor } from '../../../services/http/doors.ts'
import { DAY_MS, NOWS, PERIODS, pool } from './period.ts'

/** Haversine on a sphere of 6,371.0088 km. */
function kmBetween(a: { lat: number; lon: number }, b: { lat: number; lon: number }): number {
  const rad = Math.PI / 180
  const h =
    Math.sin(((b.lat - a.lat) * rad) / 2) ** 2 +
    Math.cos(a.lat * rad) * Math.cos(b.lat * rad) * Math.sin(((b.lon - a.lon) * rad) / 2) ** 2
  return 2 * 6371.0088 * Math.asin(Math.sqrt(h))
}

describe('the invented station', () => {
  test('comes in by the same doors as any other', () => {
    expect(stationDoor.safeParse(demoStation).success).toBe(true)
    for (const point of demoPoints) {
      expect(pointDoor.safeParse(demoPointInput(point)).success).toBe(true)
      expect(cameraDoor.safeParse(demoCameraInput(point, { pointId: 1, since: NOWS[0]! })).success).toBe(true)
    }
  })
  // Design, section 9: kilometres east and north of the homestead.
  test.each([
    ['Kite Bore', 4, 3],
    ['Galah Well', 11, -8],
    ['Snakewood Bore', -24, -3],
    ['Lantern Bore', -11, 22],
  ])('%s lies where the map says', (name, eastKm, northKm) => {
    const point = demoPoints.find((one) => one.name === name)!
    expect(kmBetween(demoHomestead, point)).toBeCloseTo(Math.hypot(eastKm, northKm), 1)
    expect(Math.sign(point.lat - demoHomestead.lat)).toBe(Math.sign(northKm))
    expect(Math.sign(point.lon - demoHomestead.lon)).toBe(Math.sign(eastKm))
  })
  test('has stills for each of its ten points, and no others', () => {
    expect(new Set(pool.map(({ pointKey }) => pointKey))).toEqual(new Set(demoPoints.map(({ key }) => key)))
    expect(demoPoints).toHaveLength(10)
  })
  test('four waters carry a yard', () => {
    expect(
      demoPoints
        .filter(({ hasYard }) => hasYard)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['Galah Well', 'Kite Bore', 'Old Garden Trough', 'Snakewood Bore'])
  })
})

describe('what was said of its waters', () => {
  const latest = (period: { now: number }, key: string) =>
    states(period).find(({ pointKey, kind }) => pointKey === key && kind.startsWith('water'))
  const states = ({ now }: { now: number }) =>
    demoStates({ ...PERIODS[0]!, now: now as (typeof NOWS)[number] })

  test('within the last day and a bit most are good by a tap, one is low by a reading, and two nobody saw', () => {
    for (const now of NOWS) {
      const words = demoPoints.map(({ key }) => latest({ now }, key))
      const fresh = words.filter((word) => word !== undefined && now - word.at <= 1.1 * DAY_MS)
      expect(fresh.filter((word) => word?.kind === 'water good' && word.source === 'tap')).toHaveLength(6)
      expect(fresh.filter((word) => word?.kind === 'water low')).toMatchObject([
        { pointKey: 'lantern-bore', source: 'reading' },
      ])
      expect(words.filter((word) => word === undefined)).toHaveLength(2)
    }
  })
  test('nothing was said in the future or before the past began', () => {
    for (const period of PERIODS) {
      const { from, to } = demoSpell(period)
      expect(demoStates(period).every(({ at }) => at >= from && at <= to)).toBe(true)
    }
  })
  test('the trap of the camel program at Stony Turkey Nest was opened, set and shut down five weeks ago', () => {
    const trap = demoStates(PERIODS[0]!).filter(({ pointKey, kind }) => {
      return pointKey === 'stony-turkey-nest' && kind.startsWith('trap')
    })
    expect(trap.map(({ kind }) => kind)).toEqual(['trap shut down', 'trap set', 'trap open'])
    expect(Math.round((NOWS[0]! - trap[0]!.at) / DAY_MS)).toBe(35)
  })
})
