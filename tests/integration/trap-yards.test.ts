/** Whole answers about trap yards from a ledger, against plans made in another way from the photos themselves. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { gateHoursOf } from '../../services/http/gate-hours-answer.ts'
import { trapYardsAnswer, yardTryAnswer } from '../../services/http/trap-yard-shapes.ts'
import { trapYardsOf } from '../../services/http/trap-yards-answer.ts'
import { figuresOf } from '../../services/http/yard-plans-answer.ts'
import { yardTryOf } from '../../services/http/yard-try-answer.ts'
import { parseInstant } from '../../services/station-time.ts'
import { sayDailyRange, sayOtherWater, sayYardMeans } from '../../services/store/yard-words.ts'
import { nightsOn } from '../../services/tally/nights.ts'
import type { NightDate } from '../../services/words.ts'
import {
  bestClosed,
  bestMet,
  clustersByWalking,
  type SketchedWater,
} from '../unit/planning/every-gate-plan.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { FIRST_NIGHT, NIGHTS, openSeededStation, type SeededStation } from './seeded-waters.ts'

const now = parseInstant('2026-11-25T12:30:00+10:30')
const said = { who: 'Robin', now }
const LAST_NIGHT = nightsOn(FIRST_NIGHT, NIGHTS - 1)
const SEEDS = [1, 2, 3]

describe.each(SEEDS)('on the seeded station %i', (seed) => {
  let seeded: SeededStation
  const ledger = () => seeded.station.ledger
  const told = () => trapYardsOf(ledger(), { species: 'camel', now })
  const sketched = (blocked: readonly number[] = []): SketchedWater[] =>
    seeded.waters.map(({ camels, ...water }) => ({
      ...water,
      isBlocked: blocked.includes(water.pointId),
      head: camels.reduce((sum, head) => sum + head, 0) / NIGHTS,
      isUsed: camels.length > 0,
    }))
  const RANGE_KM = 3 * Math.sqrt(5.5)
  const YARDS = 2
  const NIGHTS_SET = 4

  beforeAll(async () => {
    seeded = await openSeededStation(seed)
    await sayDailyRange(ledger(), { species: 'camel', range: { km: RANGE_KM, source: 'a grid' } }, said)
    await sayYardMeans(ledger(), { portableYards: YARDS, nightsSet: NIGHTS_SET }, said)
  })
  afterAll(() => seeded.station.close())

  it('it looks at the 56 nights that are over, and finds the visits that were made', async () => {
    const answer = await told()
    expect(answer.lookedAt).toEqual({ from: FIRST_NIGHT, to: LAST_NIGHT })
    for (const { pointId, camels } of seeded.waters) {
      const point = answer.points.find((one) => one.pointId === pointId)!
      expect([point.visits, point.watchedNights]).toEqual([camels.length, NIGHTS])
      expect(point.rate!.rate).toBeCloseTo(camels.reduce((sum, head) => sum + head, 0) / NIGHTS, 3)
      expect(point.use).toBe(camels.length > 0 ? 'seen' : 'not seen')
    }
    expect(trapYardsAnswer.parse(answer)).toEqual(answer)
  })

  it('clusters are those that somebody finds who walks from water to water', async () => {
    const { clusters } = await told()
    const own = clusters.map(({ pointIds }) => pointIds).filter(([id]) => id !== seeded.station.pointId)
    expect(own.sort((a, b) => a[0]! - b[0]!)).toEqual(clustersByWalking(sketched(), RANGE_KM))
    // All of these are watched, so each pair has what cameras saw beside its distance.
    const pairs = clusters.flatMap((cluster) => cluster.pairs)
    expect(pairs.filter(({ followed }) => followed === null)).toEqual([])
    expect(pairs.length > 0).toBe(own.some(({ length }) => length > 1))
  })

  it('nothing is proposed before other water is sure', async () => {
    const { close, meet, clusters } = await told()
    expect([close.clusterIds, close.portableAt, meet]).toEqual([[], [], null])
    for (const { says, pointIds, lacks } of clusters) {
      expect(says).not.toBe('close it whole')
      expect(lacks.map(({ pointId }) => pointId)).toEqual(pointIds)
    }
  })

  it('with other water sure no choice closes more head, and no choice of points meets more', async () => {
    const ids = seeded.waters.map(({ pointId }) => pointId)
    await sayOtherWater(ledger(), { pointIds: ids, isSure: true, openPointIds: [], elsewhere: 'creek' }, said)
    const { close, meet } = await told()
    expect(close.head.rate).toBeCloseTo(bestClosed(sketched(), { rangeKm: RANGE_KM, yards: YARDS }), 2)
    expect(close.portableAt.length + close.yardsLeft).toBe(YARDS)
    const best = bestMet(sketched(), { rangeKm: RANGE_KM, yards: YARDS, nights: NIGHTS_SET })
    expect(meet!.met.rate).toBeCloseTo(best!, 2)
    expect(meet!.met.low).toBeLessThanOrEqual(meet!.metIfKeeping)
  })

  it('the same gates by hand come to the same, and one water less leaves its cluster open', async () => {
    const { meet, clusters } = await told()
    const set = [...meet!.standingAt, ...meet!.portableAt].sort((a, b) => a - b)
    const tried = await yardTryOf(ledger(), { species: 'camel', points: set, now })
    expect(tried.met).toEqual(meet!.met)
    expect(tried.shiftsTo).toEqual(meet!.shiftsTo)
    expect(yardTryAnswer.parse(tried)).toEqual(tried)
    const whole = clusters.find(({ head }) => head !== null && head.rate > 0)!.pointIds
    const all = await yardTryOf(ledger(), { species: 'camel', points: whole, now })
    expect(all).toMatchObject({ closedWhole: [whole[0]], leftOpen: [], shiftsTo: [], notMet: { high: 0 } })
    if (whole.length === 1) return
    const less = await yardTryOf(ledger(), { species: 'camel', points: whole.slice(1), now })
    expect(less).toMatchObject({ closedWhole: [], leftOpen: [{ openIds: [whole[0]] }] })
  })

  it('a water that is taken back is in no proposal', async () => {
    const { close } = await told()
    const proposed = [...close.standingAt, ...close.portableAt]
    const [first] = proposed.length > 0 ? proposed : [seeded.waters[0]!.pointId]
    await sayOtherWater(
      ledger(),
      { pointIds: [first!], isSure: false, openPointIds: [], elsewhere: null },
      said,
    )
    const after = await told()
    const meet = after.meet === null ? [] : [...after.meet.standingAt, ...after.meet.portableAt]
    expect([...after.close.standingAt, ...after.close.portableAt, ...meet]).not.toContain(first)
    expect(after.close.head.rate).toBeCloseTo(
      bestClosed(sketched([first!]), { rangeKm: RANGE_KM, yards: YARDS }),
      2,
    )
    const plan = {
      name: 'by hand',
      species: 'camel' as const,
      pointIds: [first!],
      fromNight: '2026-12-01' as NightDate,
      nights: 7,
      hours: null,
      cattleShare: 0.1,
      note: null,
    }
    await expect(figuresOf(ledger(), { plan, now })).rejects.toMatchObject({
      kind: 'conflict',
      field: 'pointIds',
      message: expect.stringContaining('was taken back'),
    })
  })

  it('the kept counts it rests on are those of a count from nothing', async () => {
    expect(await keptAggregates(ledger())).toEqual(await recountFromNothing(ledger()))
  })
})

describe('the hours', () => {
  let seeded: SeededStation
  beforeAll(async () => {
    seeded = await openSeededStation(4)
  })
  afterAll(() => seeded.station.close())
  const hours = (change: object = {}) =>
    gateHoursOf(seeded.station.ledger, {
      species: 'camel',
      points: seeded.waters.map(({ pointId }) => pointId),
      cattleShare: 0.1,
      mostHours: 6,
      chosen: null,
      first: undefined,
      nights: 3,
      now,
      ...change,
    })

  it('are told from all nights that any of the points was watched, and say where no bound was kept', async () => {
    const { answer, days, visits } = await hours()
    const made = seeded.waters.reduce((sum, { camels }) => sum + camels.length, 0)
    expect(answer).toMatchObject({
      kind: 'window',
      nights: NIGHTS,
      target: { visits: made },
      // No cattle came: there is no bound to keep.
      cattle: null,
      cattleVisits: 0,
      cattleHeadANight: null,
    })
    // Every visit was made ten hours after noon, station time.
    if (answer.kind !== 'window') throw new Error(answer.kind)
    expect(answer.from <= 22 && (answer.to > 22 || answer.to < answer.from)).toBe(true)
    expect(days.map(({ on }) => on)).toEqual(['2026-11-26', '2026-11-27', '2026-11-28'])
    expect(visits).toBe(3 * seeded.waters.length)
  })

  it('of a person stand as they are', async () => {
    const { answer, byHand, days } = await hours({ chosen: { from: 6, to: 9.5 }, nights: 1 })
    expect(byHand).toBe(true)
    expect(answer).toMatchObject({ kind: 'window', from: 6, to: 9.5, hours: 3.5 })
    expect(days[0]).toMatchObject({
      setAt: '2026-11-26T06:00:00+10:30',
      shutAt: '2026-11-26T09:30:00+10:30',
    })
  })

  it('have their sun and moon beside them', async () => {
    const { days } = await hours({ first: '2026-11-24', nights: 1 })
    // Full moon on 2026-11-24 at 14:53 UT (from memory, US Naval Observatory tables).
    expect(days[0]!.sky.phase).toBe('full')
    expect(days[0]!.sky.lit).toBeGreaterThan(0.97)
    expect(days[0]!.sky.sunset!.slice(11, 13)).toBe('20')
    expect(days[0]!.sky.sunrise!.slice(11, 13)).toBe('06')
  })

  it('of a point that is none are refused', async () => {
    await expect(hours({ points: [999] })).rejects.toMatchObject({ kind: 'not found', field: 'points' })
  })
})
