/** From camera counts and the owner's figures to a muster; expected values are worked out by hand beside each. */
import { describe, expect, it } from 'vitest'
import { type MusterFigures, nothingSaid, USUAL_MUSTER } from '../../../services/planning/muster-figures.ts'
import { musterFromFigures, type SeenAtPoint } from '../../../services/planning/muster-from-figures.ts'
import type { NightDate } from '../../../services/words.ts'

const today = '2026-11-25' as NightDate
const ratings = { sheep: { low: 8, high: 10, source: 'as in the usual ratings', fromMemory: false } }
const around = (rate: number) => ({ low: rate / 2, rate, high: rate * 2 })
const seen = (pointId: number, head: number | null, hasYard = false): SeenAtPoint => ({
  pointId,
  hasYard,
  cattle:
    head === null ? null : { head: around(head), litresADay: around(0), drySheepEquivalents: around(0) },
  largestGroup: 0,
  otherStockSheep: head === null ? null : around(0),
  feralSheep: head === null ? null : around(30),
})
const figures = (change: Partial<MusterFigures> = {}): MusterFigures => ({ ...USUAL_MUSTER, ...change })
const muster = (points: readonly SeenAtPoint[], given: MusterFigures) =>
  musterFromFigures(points, { figures: given, ratings, today })

describe('a muster from the figures', () => {
  it('takes the camera counts, and a head by hand in their place', () => {
    const { plan, steps } = muster(
      [seen(1, 100), seen(2, 100)],
      figures({ points: [{ ...nothingSaid(2), head: { low: 40, high: 60 } }] }),
    )
    expect(steps.map(({ pointId, head }) => [pointId, head])).toEqual([
      [1, { low: 50, rate: 100, high: 200 }],
      [2, { low: 40, rate: 50, high: 60 }],
    ])
    expect(plan.head).toEqual({ low: 90, rate: 150, high: 260 })
  })

  it('has no high end under what was seen at once', () => {
    const { steps } = muster([{ ...seen(1, 10), largestGroup: 31 }], figures())
    expect(steps[0]!.head).toEqual({ low: 5, rate: 10, high: 31 })
    expect(muster([{ ...seen(1, 10), largestGroup: 12 }], figures()).steps[0]!.head.high).toBe(20)
  })

  it('tells apart the points that it can’t plan', () => {
    const { steps, notMustered } = muster(
      [seen(1, 100), seen(2, null), seen(3, 50), seen(4, 70, true)],
      figures({
        means: { ...USUAL_MUSTER.means, portableYards: 0 },
        points: [{ ...nothingSaid(3), leftOut: true }],
      }),
    )
    expect(steps.map(({ pointId }) => pointId)).toEqual([4])
    expect(notMustered).toEqual([
      { pointId: 1, why: 'no yard' },
      { pointId: 2, why: 'not watched' },
      { pointId: 3, why: 'left out' },
    ])
  })

  it('mustered by hand needs no camera', () => {
    const given = figures({ points: [{ ...nothingSaid(1), head: { low: 20, high: 20 } }] })
    expect(muster([seen(1, null)], given).notMustered).toEqual([])
  })

  it('believes the owner’s word on a yard before that of Set-up', () => {
    const means = { ...USUAL_MUSTER.means, portableYards: 0 }
    const pulledDown = figures({ means, points: [{ ...nothingSaid(1), fixedYard: false }] })
    expect(muster([seen(1, 100, true)], pulledDown).notMustered).toEqual([{ pointId: 1, why: 'no yard' }])
    const built = figures({ means, points: [{ ...nothingSaid(1), fixedYard: true }] })
    expect(muster([seen(1, 100)], built).steps).toHaveLength(1)
  })

  it('has a point’s own road and hours in place of those of all', () => {
    const own = figures({ points: [{ ...nothingSaid(2), km: 30, musterHours: 8 }] })
    const [first, second] = muster([seen(1, 10, true), seen(2, 5, true)], own).steps
    // 2 + 2 hours, and 300 km there and back at 60 km an hour; 2 + 2, and 30 km there and back.
    expect([first!.hoursALoad, second!.hoursALoad]).toEqual([14, 5])
    // 6 h of muster, the night of 12, loading 2, 5 on the road, 2 until the last drinks.
    expect(first!.offWater!.firstLoad).toBe(27)
    expect(second!.offWater!.firstLoad).toBe(8 + 12 + 2 + 0.5 + 2)
  })

  it('has no latest start where it would take more than ten years', () => {
    const slip = figures({
      endBy: '2027-01-31' as NightDate,
      means: { ...USUAL_MUSTER.means, headADeck: 1, decksATruck: 1 },
    })
    expect(muster([seen(1, 1000, true)], slip).plan.latestStart).not.toBeNull()
    expect(muster([seen(1, 2000, true)], slip).plan.latestStart).toBeNull()
  })

  it('says where a truck can’t make its loads in a day, and who is longer off water than allowed', () => {
    const tight = figures({ means: { ...USUAL_MUSTER.means, loadsADay: 2 }, mostHoursOffWater: 26 })
    // 14 hours a load: two are 28 hours. 100 head are up to 200, 8 decks, 2 loads of one truck.
    const many = muster([seen(1, 100, true)], tight).steps[0]
    expect(many).toMatchObject({ loads: { high: 2 }, tooLongADay: true, overMostHours: true })
    // A single load goes once.
    expect(muster([seen(1, 10, true)], tight).steps[0]).toMatchObject({
      tooLongADay: false,
      overMostHours: true,
    })
    const enough = figures({ mostHoursOffWater: 27 })
    expect(muster([seen(1, 10, true)], enough).steps[0]).toMatchObject({
      tooLongADay: false,
      overMostHours: false,
    })
    expect(muster([seen(1, 10, true)], figures()).steps[0]!.overMostHours).toBe(false)
  })
})

describe('feed without rain', () => {
  const rated = (low: number, high: number) =>
    figures({ points: [{ ...nothingSaid(1), feedKg: { low, high } }] })

  it('is told of points with a rating, and of no other', () => {
    const { feed, feedNotTold } = muster([seen(1, 100), seen(2, 100)], rated(10_000, 20_000))
    expect(feed.map(({ pointId }) => pointId)).toEqual([1])
    expect(feedNotTold).toEqual([{ pointId: 2, why: 'no feed given' }])
    expect(muster([seen(1, null)], rated(1, 2)).feedNotTold).toEqual([{ pointId: 1, why: 'not watched' }])
  })

  it('is eaten by the cattle by hand where a hand gave them, and by ferals', () => {
    const given = figures({
      points: [{ ...nothingSaid(1), feedKg: { low: 9_000, high: 9_000 }, head: { low: 10, high: 10 } }],
      rain: { days: 42, kgASheepDay: { low: 1, high: 1 } },
    })
    const [feed] = muster([seen(1, 100)], given).feed
    // In the middle 10 cattle at 9 sheep and 30 sheep of ferals: 120 kg a day, so 75 days; 90 kg without ferals, 100 days.
    expect(feed!.days.middle).toBeCloseTo(75, 10)
    expect(feed!.daysWithoutFeral.middle).toBeCloseTo(100, 10)
  })
})
