/** A muster's days, loads and hours off water; expected values are worked out by hand beside each. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type MusterPoint, type MusterWishes, musterPlan } from '../../../services/planning/muster.ts'
import { type MusterMeans, musterDays } from '../../../services/planning/muster-days.ts'
import { feedLeft } from '../../../services/planning/no-rain.ts'
import { type Haul, hoursOffWater } from '../../../services/planning/time-off-water.ts'
import type { NightDate } from '../../../services/words.ts'

const means: MusterMeans = {
  portableYards: 1,
  headADeck: 20,
  decksATruck: 4,
  trucks: 1,
  loadsADay: 2,
  daysToSet: 1,
  daysToMuster: 1,
}
const haul: Haul = { musterHours: 6, nightHours: 12, loadHours: 1, unloadHours: 1, km: 120, kmAnHour: 60 }
const yard = (pointId: number, head: number, fixedYard = false) => ({ pointId, fixedYard, head })

describe('the days', () => {
  it('of a point are set, muster, trucks: 200 head are 10 decks, 3 loads, two days of two loads', () => {
    expect(musterDays([yard(1, 200)], means)).toEqual([
      {
        pointId: 1,
        decks: 10,
        loads: 3,
        set: { from: 0, to: 1 },
        muster: { from: 1, to: 2 },
        trucks: { from: 2, to: 4 },
      },
    ])
  })

  it('with one yard wait for it, with two the next is set while the one before is trucked', () => {
    const last = (portableYards: number) =>
      musterDays([yard(1, 200), yard(2, 200), yard(3, 200)], { ...means, portableYards }).at(-1)!.trucks
    // One: 4 days each. Two: the second is set on day 2 and full by day 4, trucked to 6; the third waits for yard 1 (free on
    // day 4), is full by 6, trucked to 8.
    expect(last(1)).toEqual({ from: 10, to: 12 })
    expect(last(2)).toEqual({ from: 6, to: 8 })
  })

  it('are spent on no panels where a yard stands for good', () => {
    const [first, second] = musterDays([yard(1, 200, true), yard(2, 200, true)], {
      ...means,
      portableYards: 0,
    })
    expect(first).toMatchObject({
      set: { from: 0, to: 0 },
      muster: { from: 0, to: 1 },
      trucks: { from: 1, to: 3 },
    })
    // The crew is at once at the next point, and the trucks come when they are done.
    expect(second).toMatchObject({ muster: { from: 1, to: 2 }, trucks: { from: 3, to: 5 } })
  })

  it('need a yard, and whole means', () => {
    expect(() => musterDays([yard(1, 10)], { ...means, portableYards: 0 })).toThrow(/no yard/)
    expect(() => musterDays([], { ...means, trucks: 0 })).toThrow(RangeError)
    expect(() => musterDays([], { ...means, daysToSet: 0.5 })).toThrow(RangeError)
  })

  const yards = fc.array(fc.record({ head: fc.integer({ min: 0, max: 500 }), fixedYard: fc.boolean() }), {
    maxLength: 7,
  })
  const anyMeans = fc.record({
    portableYards: fc.integer({ min: 1, max: 3 }),
    headADeck: fc.integer({ min: 10, max: 30 }),
    decksATruck: fc.integer({ min: 1, max: 6 }),
    trucks: fc.integer({ min: 1, max: 4 }),
    loadsADay: fc.integer({ min: 1, max: 3 }),
    daysToSet: fc.integer({ min: 0, max: 2 }),
    daysToMuster: fc.integer({ min: 1, max: 3 }),
  })
  it('never have the crew or a truck at two points, nor more yards out than there are', () => {
    fc.assert(
      fc.property(yards, anyMeans, (given, with_) => {
        const all = given.map((one, i) => ({ ...one, pointId: i }))
        const days = musterDays(all, with_)
        for (const [i, one] of days.entries()) {
          const before = days[i - 1]
          if (before) expect(one.set.from).toBeGreaterThanOrEqual(before.muster.to)
          if (before) expect(one.trucks.from).toBeGreaterThanOrEqual(before.trucks.to)
          expect(one.trucks.from).toBeGreaterThanOrEqual(one.muster.to)
          expect(one.loads * with_.decksATruck * with_.headADeck).toBeGreaterThanOrEqual(given[i]!.head)
          expect((one.trucks.to - one.trucks.from) * with_.trucks * with_.loadsADay).toBeGreaterThanOrEqual(
            one.loads,
          )
        }
        for (let day = 0; day < (days.at(-1)?.trucks.to ?? 0); day++) {
          const out = days.filter(
            ({ set, trucks }, i) => !given[i]!.fixedYard && set.from <= day && day < trucks.to,
          )
          expect(out.length).toBeLessThanOrEqual(with_.portableYards)
        }
      }),
    )
  })

  it('are no more with another truck, another yard or fewer head', () => {
    fc.assert(
      fc.property(yards, anyMeans, (given, with_) => {
        const end = (all: typeof given, some: MusterMeans) =>
          Math.max(
            0,
            ...musterDays(
              all.map((one, i) => ({ ...one, pointId: i })),
              some,
            ).map(({ trucks }) => trucks.to),
          )
        const now = end(given, with_)
        expect(end(given, { ...with_, trucks: with_.trucks + 1 })).toBeLessThanOrEqual(now)
        expect(end(given, { ...with_, portableYards: with_.portableYards + 1 })).toBeLessThanOrEqual(now)
        expect(
          end(
            given.map((one) => ({ ...one, head: Math.floor(one.head / 2) })),
            with_,
          ),
        ).toBeLessThanOrEqual(now)
      }),
    )
  })
})

describe('hours off water', () => {
  const [days] = musterDays([yard(1, 400)], means)

  it('count from the first muster to the trough: 6 + 12 + 1 + 2 + 1, and the last load two days and a trip later', () => {
    // 400 head are 20 decks, 5 loads: 2, 2, 1, so the last is the first trip of the third day.
    expect(hoursOffWater(days!, haul, means)).toEqual({ firstLoad: 22, lastLoad: 22 + 48 })
    // 320 head are 4 loads: the last is the second trip of the second day, after there and back, on and off.
    const [four] = musterDays([yard(1, 320)], means)
    expect(hoursOffWater(four!, haul, means)!.lastLoad).toBe(22 + 24 + 1 + 1 + 2 * 2)
  })

  it('grow by the days that the trucks are elsewhere and that the muster goes on', () => {
    const [, second] = musterDays([yard(1, 200, true), yard(2, 20, true)], means)
    // In the yard on the evening of day 1, trucked on day 3 instead of 2.
    expect(hoursOffWater(second!, haul, means)!.firstLoad).toBe(22 + 24)
    const [long] = musterDays([yard(1, 20, true)], { ...means, daysToMuster: 3 })
    expect(hoursOffWater(long!, haul, means)!.firstLoad).toBe(22 + 48)
  })

  it('are none with no load, and take no hours below 0', () => {
    expect(hoursOffWater(musterDays([yard(1, 0, true)], means)[0]!, haul, means)).toBeNull()
    expect(() => hoursOffWater(days!, { ...haul, kmAnHour: 0 }, means)).toThrow(RangeError)
  })
})

describe('the plan', () => {
  const point = (pointId: number, rate: number, waterDays: number | null = null): MusterPoint => ({
    pointId,
    head: { low: rate / 2, rate, high: rate * 1.5 },
    fixedYard: false,
    haul,
    waterDays,
  })
  const wishes: MusterWishes = { means, musteredShare: 0.9, order: [], endBy: '2026-12-20' as NightDate }

  it('begins where the water goes first, then where most may be', () => {
    const points = [point(1, 50), point(2, 80), point(3, 40, 20), point(4, 60, 9)]
    const ids = (order: number[]) =>
      musterPlan(points, { ...wishes, order }).steps.map(({ pointId }) => pointId)
    expect(ids([])).toEqual([4, 3, 2, 1])
    expect(ids([1])).toEqual([1, 4, 3, 2])
  })

  it('says what is left behind at each step: points to come and what musters miss', () => {
    const { steps, head } = musterPlan([point(1, 100, 1), point(2, 40)], wishes)
    expect(head).toEqual({ low: 70, rate: 140, high: 210 })
    // 140 less nine tenths of 100; then less nine tenths of 40.
    expect(steps[0]!.leftBehind.rate).toBeCloseTo(50, 10)
    expect(steps[1]!.leftBehind.rate).toBeCloseTo(14, 10)
    expect(steps[1]!.leftBehind.high).toBeCloseTo(21, 10)
  })

  it('starts so that it ends in time, on the cattle expected and at the high end', () => {
    const plan = musterPlan([point(1, 160)], wishes)
    // 160: 8 decks, 2 loads, 1 day; with set and muster 3 days: 18th, 19th, 20th. 240: 12 decks, 3 loads, 2 days.
    expect(plan.days).toEqual({ low: 3, expected: 3, high: 4 })
    expect(plan.latestStart).toEqual({ expected: '2026-12-18', high: '2026-12-17' })
    expect(plan.steps[0]!.loads).toEqual({ low: 1, expected: 2, high: 3 })
    expect(musterPlan([point(1, 160)], { ...wishes, endBy: null }).latestStart).toBeNull()
  })

  it('takes a point once and a share that is one', () => {
    expect(() => musterPlan([point(1, 1), point(1, 2)], wishes)).toThrow(RangeError)
    expect(() => musterPlan([], { ...wishes, musteredShare: 1.1 })).toThrow(RangeError)
  })
})

describe('no rain for six weeks', () => {
  const sheep = (rate: number) => ({ low: rate, rate, high: rate })
  const given = { days: 42, kgASheepDay: { low: 1, high: 1 }, today: '2026-11-01' as NightDate }
  const at = (low: number, high: number, stock: number, feral = 0) =>
    feedLeft(
      [{ pointId: 1, feedKg: { low, high }, stockSheep: sheep(stock), feralSheep: sheep(feral) }],
      given,
    )[0]!

  it('the feed lasts, may run out, or runs out, by its low and its high end', () => {
    // 100 sheep for 42 days eat 4,200 kg.
    expect(at(4200, 5000, 100).says).toBe('lasts')
    expect(at(4100, 4300, 100).says).toBe('may run out')
    expect(at(3000, 4100, 100).says).toBe('runs out')
  })

  it('tells on which day, and how many the feed carries', () => {
    const left = at(1000, 2000, 100)
    // 10 days at the low end, 15 in the middle.
    expect(left.runsOutOn).toEqual({ low: '2026-11-11', middle: '2026-11-16' })
    expect(left.carries.low).toBeCloseTo(1000 / 42, 10)
    expect(at(4200, 5000, 100).runsOutOn).toEqual({ low: null, middle: null })
  })

  it('lasts longer without feral animals, and without end where nothing eats', () => {
    const left = at(2000, 2000, 60, 40)
    expect(left.days.middle!).toBeCloseTo(20, 10)
    expect(left.daysWithoutFeral.middle!).toBeCloseTo(2000 / 60, 10)
    expect(at(0, 10, 0)).toMatchObject({ says: 'lasts', days: { low: null, high: null } })
  })

  it('may last where there may be no more than a few: an interval that begins at none has no end', () => {
    const few = { low: 0, rate: 100, high: 200 }
    const [left] = feedLeft(
      [{ pointId: 1, feedKg: { low: 100, high: 100 }, stockSheep: few, feralSheep: sheep(0) }],
      given,
    )
    expect(left).toMatchObject({ says: 'may run out', days: { low: 0.5, middle: 1, high: null } })
  })

  it('needs days, a ration and feed that make sense', () => {
    expect(() => feedLeft([], { ...given, days: 0 })).toThrow(RangeError)
    expect(() => at(-1, 5, 10)).toThrow(RangeError)
  })
})
