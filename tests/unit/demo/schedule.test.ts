import { describe, expect, test } from 'vitest'
import { demoHeartbeats } from '../../../services/demo/heartbeats.ts'
import { demoSchedule } from '../../../services/demo/schedule.ts'
import { demoPoints } from '../../../services/demo/station.ts'
import { SPECIES } from '../../../services/words.ts'
import { DAY_MS, HOUR_MS, hourOf, lightOf, PERIODS, pool, speciesIn, stillsOf, visitsOf } from './period.ts'

const pasts = PERIODS.map((plan) => ({ ...plan, schedule: demoSchedule(plan) }))
const daysAgo = (now: number, at: number) => (now - at) / DAY_MS
/** Visits over all the pasts tried, so that a rise is a rise and not one seed's luck. */
const visitsIn = (point: string, species: (typeof SPECIES)[number], from: number, to: number) =>
  pasts.reduce((sum, { now, schedule }) => {
    const visits = visitsOf(schedule, point, species)
    return (
      sum + visits.filter(([first]) => daysAgo(now, first!.at) >= from && daysAgo(now, first!.at) < to).length
    )
  }, 0)

describe('the demo’s past as a whole', () => {
  test.each(pasts)('is 1,500 to 1,800 stills in eight weeks (seed $seed)', ({ schedule }) => {
    expect(schedule.length).toBeGreaterThanOrEqual(1500)
    expect(schedule.length).toBeLessThanOrEqual(1800)
  })
  test('is the same for the same seed and now, and another for another seed', () => {
    const plan = PERIODS[0]!
    expect(demoSchedule(plan)).toEqual(demoSchedule({ ...plan }))
    expect(demoSchedule({ ...plan, seed: 99 })).not.toEqual(demoSchedule(plan))
  })
  test('comes newest first, with nothing in the future and nothing before its first night', () => {
    for (const { now, nights, schedule } of pasts) {
      expect(schedule.every(({ at }) => at <= now && at >= now - nights * DAY_MS - HOUR_MS)).toBe(true)
      expect(schedule.map(({ at }) => at)).toEqual(schedule.map(({ at }) => at).sort((a, b) => b - a))
    }
  })
  test('reaches into the last half day, so that the first screen has something new', () => {
    for (const { now, schedule } of pasts) expect(now - schedule[0]!.at).toBeLessThan(12 * HOUR_MS)
  })
  test('has no two stills of a camera in one second: they could be the same bytes', () => {
    for (const { schedule } of pasts)
      expect(new Set(schedule.map(({ pointKey, at }) => `${pointKey} ${at}`)).size).toBe(schedule.length)
  })
  test('is shorter for fewer nights', () => {
    const few = demoSchedule({ ...PERIODS[0]!, nights: 7 })
    expect(few.length).toBeGreaterThan(120)
    expect(few.length).toBeLessThan(260)
  })
  test('a third of the visits have three stills or more', () => {
    for (const { schedule } of pasts) {
      const visits = demoPoints.flatMap(({ key }) => SPECIES.flatMap((one) => visitsOf(schedule, key, one)))
      const share = visits.filter(({ length }) => length >= 3).length / visits.length
      expect(share).toBeGreaterThan(0.28)
      expect(share).toBeLessThan(0.4)
    }
  })
  test('every still is of its own point', () => {
    for (const { schedule } of pasts)
      expect(schedule.every(({ pointKey, source }) => source.startsWith(pointKey))).toBe(true)
  })
  test('some stills are empty: the wind took them', () => {
    const empty = new Set(
      pool.filter((one) => one.species.size === 0 && !one.hasOther).map((one) => one.source),
    )
    for (const { schedule } of pasts)
      expect(schedule.filter(({ source }) => empty.has(source)).length).toBeGreaterThan(30)
  })
  test('each kind of unreadable file came in, one of them within the last days, and no camera sent two empty ones', () => {
    for (const { now, schedule } of pasts) {
      const broken = schedule.filter((still) => still.broken !== null)
      expect(new Set(broken.map((still) => still.broken)).size).toBe(3)
      expect(broken.some(({ at }) => daysAgo(now, at) < 4)).toBe(true)
      const empty = broken.filter((still) => still.broken === 'empty').map(({ pointKey }) => pointKey)
      expect(new Set(empty).size).toBe(empty.length)
    }
  })
})

describe('light fits the hour (28 degrees south: light by 8 and until 17:30, dark from 21:15 to 5:30, all year)', () => {
  test('by day stills are by day, at night infra-red', () => {
    for (const { schedule } of pasts)
      for (const still of schedule) {
        const hour = hourOf(still.at)
        if (hour >= 8 && hour <= 17.5) expect(lightOf(still), still.source).toBe('day')
        if (hour >= 21.25 || hour <= 5.5) expect(lightOf(still), still.source).toBe('night')
      }
  })
  test('every water has fitting stills for everything that comes to it, by the light it comes in', () => {
    for (const { key } of demoPoints) {
      const lights = new Set(
        pool.filter((one) => one.pointKey === key && one.species.has('cattle')).map((s) => s.light),
      )
      expect(lights).toEqual(new Set(['day', 'night']))
    }
    const long = demoSchedule({ ...PERIODS[0]!, nights: 365 })
    for (const { pointKey, species, count } of [
      { pointKey: 'galah-well', species: 'donkey', count: 100 },
      { pointKey: 'lantern-bore', species: 'goat', count: 80 },
    ] as const)
      expect(visitsOf(long, pointKey, species).length).toBeGreaterThan(count)
  })
})

describe('who comes where', () => {
  test('cattle come to every point most days, but where they thin out or went', () => {
    for (const { schedule } of pasts)
      for (const { key } of demoPoints.filter((one) => one.key !== 'twelve-mile-tank')) {
        const days = new Set(stillsOf(schedule, key, 'cattle').map(({ at }) => Math.floor(at / DAY_MS)))
        expect(days.size, key).toBeGreaterThan(56 / 2)
      }
  })
  test('cattle come in mid-morning and in the evening', () => {
    const hours = pasts.flatMap(({ schedule }) =>
      stillsOf(schedule, 'kite-bore', 'cattle').map(({ at }) => hourOf(at)),
    )
    expect(hours.every((hour) => (hour > 8 && hour < 13.5) || (hour > 15 && hour < 21.5))).toBe(true)
    expect(hours.filter((hour) => hour < 13.5).length / hours.length).toBeGreaterThan(0.3)
    expect(hours.filter((hour) => hour > 15).length / hours.length).toBeGreaterThan(0.3)
  })
  test('cattle thin out at Twelve Mile Tank', () => {
    expect(visitsIn('twelve-mile-tank', 'cattle', 0, 14)).toBeLessThan(
      visitsIn('twelve-mile-tank', 'cattle', 42, 56) / 2,
    )
  })
  test('cattle are gone from Windlass Well for the last four days, and were there in the days before', () => {
    for (const { now, schedule } of pasts) {
      const last = stillsOf(schedule, 'windlass-well', 'cattle').at(-1)!
      expect(daysAgo(now, last.at)).toBeGreaterThanOrEqual(4)
      expect(daysAgo(now, last.at)).toBeLessThan(8)
    }
  })
  test('at every other point but the thinning one cattle were seen within three days', () => {
    for (const { now, schedule } of pasts)
      for (const { key } of demoPoints.filter((p) => !['windlass-well', 'twelve-mile-tank'].includes(p.key)))
        expect(daysAgo(now, stillsOf(schedule, key, 'cattle').at(-1)!.at), key).toBeLessThan(3)
  })
  test.each(['kite-bore', 'galah-well', 'lantern-bore'])('camels rise at %s', (point) => {
    const [recent, before, long] = [
      visitsIn(point, 'camel', 0, 14),
      visitsIn(point, 'camel', 21, 35),
      visitsIn(point, 'camel', 42, 56),
    ]
    expect(recent).toBeGreaterThan(before)
    expect(before).toBeGreaterThan(long)
  })
  test('after the program five weeks ago camels fell at Stony Turkey Nest, then rise again', () => {
    expect(visitsIn('stony-turkey-nest', 'camel', 21, 35)).toBeLessThan(
      visitsIn('stony-turkey-nest', 'camel', 35, 49) / 2,
    )
    expect(visitsIn('stony-turkey-nest', 'camel', 0, 14)).toBeGreaterThan(
      visitsIn('stony-turkey-nest', 'camel', 21, 35),
    )
  })
  test('and rose at Kite Bore', () => {
    expect(visitsIn('kite-bore', 'camel', 21, 35)).toBeGreaterThan(
      1.5 * visitsIn('kite-bore', 'camel', 35, 49),
    )
  })
  test.each([
    [
      'camel',
      'after dark',
      ['galah-well', 'kite-bore', 'lantern-bore', 'stony-turkey-nest'],
      (h: number) => h > 18 || h < 2,
    ],
    ['donkey', 'from midnight to dawn', ['galah-well', 'snakewood-bore'], (h: number) => h < 7],
    [
      'horse',
      'around dusk',
      ['pigeon-soak', 'twelve-mile-tank', 'windlass-well'],
      (h: number) => h > 16 && h < 22.5,
    ],
    ['goat', 'by day', ['ironbark-dam', 'lantern-bore', 'old-garden-trough'], (h: number) => h > 7 && h < 19],
  ] as const)('%ss come %s, to their waters only', (species, _, points, isTheirHour) => {
    for (const { schedule } of pasts) {
      const stills = schedule.filter((still) => speciesIn(still).has(species) && still.broken === null)
      expect([...new Set(stills.map(({ pointKey }) => pointKey))].sort()).toEqual(points)
      expect(stills.every(({ at }) => isTheirHour(hourOf(at)))).toBe(true)
    }
  })
})

describe('what the cameras say of themselves', () => {
  test('each camera sends one heartbeat a day, so quiet waters count as watched (a day and two hours is the limit)', () => {
    for (const period of PERIODS) {
      const beats = demoHeartbeats(period).filter(({ pointKey }) => pointKey === 'windlass-well')
      const gaps = beats.slice(1).map(({ at }, index) => (beats[index]!.at - at) / HOUR_MS)
      expect(beats.length).toBeGreaterThanOrEqual(55)
      expect(Math.max(...gaps)).toBeLessThanOrEqual(25)
      expect((period.now - beats[0]!.at) / HOUR_MS).toBeLessThan(25)
      expect(beats[0]!.at).toBeLessThanOrEqual(period.now)
    }
  })
  test('Pigeon Soak’s camera was down for two nights: no still and no heartbeat from noon to noon to noon', () => {
    for (const { schedule, ...period } of pasts) {
      const contacts = [...schedule, ...demoHeartbeats(period)]
        .filter(({ pointKey }) => pointKey === 'pigeon-soak')
        .map(({ at }) => at)
        .sort((a, b) => a - b)
      const silences = contacts.slice(1).map((at, index) => (at - contacts[index]!) / HOUR_MS)
      const long = silences.filter((hours) => hours > 26)
      expect(long).toHaveLength(1)
      expect(long[0]).toBeGreaterThanOrEqual(47)
      expect(long[0]).toBeLessThan(78)
    }
  })
  test('it speaks again since', () => {
    for (const { now, schedule } of pasts)
      expect(schedule.some(({ pointKey, at }) => pointKey === 'pigeon-soak' && daysAgo(now, at) < 3)).toBe(
        true,
      )
  })
})
