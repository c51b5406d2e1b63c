/** Did a program work: what is told of its points and of those next to them. */
import { describe, expect, it } from 'vitest'
import { againstLastYear } from '../../../services/planning/against-last-year.ts'
import { didItWork, neighboursOf, type OutcomePoint } from '../../../services/planning/did-it-work.ts'
import { pointsTogether } from '../../../services/planning/points-together.ts'
import { compareRates } from '../../../services/tally/change.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'

const spells = (visitsBefore: number, visitsAfter: number, nightsBefore = 28, nightsAfter = 28) => ({
  before: { visits: visitsBefore, watchedNights: nightsBefore },
  after: { visits: visitsAfter, watchedNights: nightsAfter },
})
const point = (
  pointId: number,
  before: number,
  after: number,
  lastYear: [number, number] | null = null,
): OutcomePoint => ({
  pointId,
  ...spells(before, after),
  lastYear: lastYear && spells(...lastYear),
})

describe('a program', () => {
  it('worked where fewer come, and no more next door', () => {
    const answer = didItWork([point(1, 40, 5), point(2, 30, 6)], [point(3, 12, 11)], 1)
    expect(answer.says).toBe('fewer here')
    expect(answer.program!.verdict).toBe('fewer')
    expect(answer.programPoints.map(({ pointId, verdict }) => [pointId, verdict])).toEqual([
      [1, 'fewer'],
      [2, 'fewer'],
    ])
    expect(answer.neighbours!.verdict).toBe('no clear change')
  })

  it('may have driven them next door', () => {
    expect(didItWork([point(1, 40, 5)], [point(3, 12, 45), point(4, 10, 9)], 1).says).toBe(
      'fewer here, more next door',
    )
  })

  it('may have done what the season does', () => {
    const asLastYear = didItWork([point(1, 40, 15, [44, 17])], [], 1)
    expect(asLastYear.says).toBe('fewer here, as last year')
    const more = didItWork([point(1, 40, 4, [44, 40])], [], 1)
    expect(more.says).toBe('fewer here')
    expect(more.season!.high).toBeLessThan(1)
  })

  it('without a past is told without the season', () => {
    expect(didItWork([point(1, 40, 5)], [], 1).season).toBeNull()
  })

  it('may not be seen at all', () => {
    expect(didItWork([point(1, 20, 17)], [], 1).says).toBe('no clear change')
    expect(didItWork([point(1, 10, 40)], [], 1).says).toBe('more than before')
    expect(didItWork([point(1, 2, 0)], [], 1).says).toBe('too few nights to tell')
    expect(didItWork([point(1, 40, 5)], [], null).says).toBe('too few nights to tell')
    expect(didItWork([{ pointId: 1, ...spells(40, 0, 28, 0), lastYear: null }], [], 1)).toMatchObject({
      says: 'too few nights to tell',
      program: null,
    })
  })
})

describe('points together', () => {
  it('of one point are that point', () => {
    const one = spells(11, 4, 20, 13)
    const together = pointsTogether([one])!
    const [a, b] = [compareRates(one.after, one.before), compareRates(together.after, together.before)]
    expect(b.p).toBeCloseTo(a.p, 10)
    expect(b.ratio!).toBeCloseTo(a.ratio!, 10)
  })

  it('do not take more watching at a busy point for a rise', () => {
    // Nothing changed at either: 2 a night at one, 0.1 at the other, but the busy one was watched longer after.
    const busy = spells(20, 56, 10, 28)
    const quiet = spells(3, 1, 28, 10)
    const together = pointsTogether([busy, quiet])!
    const { p, ratio } = compareRates(together.after, together.before)
    expect(ratio!).toBeCloseTo(1, 1)
    expect(p).toBeGreaterThan(0.5)
    // Simply added up it would be a rise for sure.
    expect(compareRates({ visits: 57, watchedNights: 38 }, { visits: 23, watchedNights: 38 }).p).toBeLessThan(
      0.001,
    )
  })

  it('show a change where there is none no more often than they say', () => {
    const draw = drawsFrom(9)
    const poisson = (mean: number) => {
      let many = -1
      for (let product = 1; product > Math.exp(-mean); many++) product *= (draw(1_000_000) + 0.5) / 1_000_000
      return many
    }
    const trials = 1000
    let found = 0
    for (let trial = 0; trial < trials; trial++) {
      const points = [
        [1.5, 8, 26],
        [0.2, 28, 12],
        [0.6, 20, 28],
      ].map(([rate, before, after]) =>
        spells(poisson(rate! * before!), poisson(rate! * after!), before, after),
      )
      const together = pointsTogether(points)!
      if (compareRates(together.after, together.before).p < 0.05) found++
    }
    console.info(`points together: ${found} of ${trials} unchanged programs shown as changed at 0.05`)
    expect(found / trials).toBeLessThan(0.06)
  })

  it('leave out points that were not watched both before and after', () => {
    expect(pointsTogether([spells(5, 0, 28, 0)])).toBeNull()
    expect(pointsTogether([spells(5, 0, 28, 0), spells(4, 2)])).toEqual(pointsTogether([spells(4, 2)]))
    expect(pointsTogether([spells(0, 0, 10, 30)])!.after.watchedNights).toBeCloseTo(30, 10)
  })
})

describe('against last year', () => {
  it('is the ratio of both ratios, with limits by hand', () => {
    // (10/28)/(40/28) over (20/28)/(40/28) is 0.5; variance 1/10 + 1/40 + 1/20 + 1/40 = 0.2.
    const { ratio, low, high } = againstLastYear(spells(40, 10), spells(40, 20))!
    expect(ratio).toBeCloseTo(0.5, 10)
    expect(low).toBeCloseTo(0.5 * Math.exp(-1.959964 * Math.sqrt(0.2)), 5)
    expect(high).toBeCloseTo(0.5 * Math.exp(1.959964 * Math.sqrt(0.2)), 5)
  })

  it('has limits also where nothing came, and none where nobody watched', () => {
    const { ratio, high } = againstLastYear(spells(40, 0), spells(40, 20))!
    // (0.5 / 40.5) over (20.5 / 40.5).
    expect(ratio).toBeCloseTo(0.5 / 20.5, 10)
    expect(Number.isFinite(high)).toBe(true)
    expect(againstLastYear(spells(40, 0, 28, 0), spells(40, 20))).toBeNull()
  })
})

it('neighbours lie within the daily range of a point of the program', () => {
  const at = (pointId: number, km: number) => ({ pointId, lat: -28 + km / 110.85, lon: 134 })
  expect(neighboursOf([at(1, 0), at(2, 12), at(3, 24), at(4, 60)], { program: [1, 2], rangeKm: 15 })).toEqual(
    [3],
  )
})
