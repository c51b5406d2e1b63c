import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CountedPoint, ratePrior, shrunkRate } from '../../../services/tally/shrinkage.ts'
import { chanceFrom } from './chance.ts'

const of = (visits: number, watchedNights: number): CountedPoint => ({ visits, watchedNights })

describe('rates drawn towards the station’s', () => {
  it('lie between the rate as counted and the mean, nearer to their own the longer they were watched', () => {
    const points = fc.array(
      fc.record({
        visits: fc.integer({ min: 0, max: 30 }),
        watchedNights: fc.double({ min: 0.2, max: 7, noNaN: true }),
      }),
      { minLength: 2, maxLength: 12 },
    )
    fc.assert(
      fc.property(points, (all) => {
        const prior = ratePrior(all)
        fc.pre(prior !== null)
        const rates = all.map((point) => shrunkRate(point, prior)!)
        for (const { raw, shrunk } of rates) {
          expect(shrunk).toBeGreaterThanOrEqual(Math.min(raw, prior.mean) - 1e-12)
          expect(shrunk).toBeLessThanOrEqual(Math.max(raw, prior.mean) + 1e-12)
        }
        const [a, b] = [0, 1].map((i) => ({ watched: all[i]!.watchedNights, own: rates[i]!.ownShare }))
        if (a!.watched > b!.watched) expect(a!.own).toBeGreaterThanOrEqual(b!.own)
      }),
    )
  })

  it('do not let one visit in half a night lead the list', () => {
    const points = [of(1, 0.5), of(13, 7), of(1, 7), of(2, 7), of(4, 7), of(12, 7)]
    const prior = ratePrior(points)!
    const rates = points.map((point) => shrunkRate(point, prior)!)
    expect(rates[0]!.raw).toBeGreaterThan(rates[1]!.raw)
    expect(rates[0]!.shrunk).toBeLessThan(rates[1]!.shrunk)
  })

  it('are all the mean where points differ by no more than chance', () => {
    const points = [of(4, 7), of(4, 7), of(5, 7)]
    const prior = ratePrior(points)!
    expect(prior.shape).toBe(Number.POSITIVE_INFINITY)
    for (const point of points) expect(shrunkRate(point, prior)!.shrunk).toBeCloseTo(13 / 21, 9)
  })

  it('weigh a point’s own nights less where visits clump', () => {
    const points = [of(0, 7), of(3, 7), of(30, 7), of(9, 7)]
    const [chance, clumped] = [1, 3].map(
      (dispersion) => shrunkRate(points[2]!, ratePrior(points, dispersion)!, dispersion)!,
    )
    expect(clumped!.ownShare).toBeLessThan(chance!.ownShare)
  })

  it('are not there for a point that was not watched, nor without a second point or any visit', () => {
    expect(shrunkRate(of(0, 0), { mean: 1, shape: 1 })).toBeNull()
    expect(ratePrior([of(4, 7), of(0, 0)])).toBeNull()
    expect(ratePrior([of(0, 7), of(0, 7)])).toBeNull()
  })

  it('lie nearer to the truth than the rates as counted', () => {
    const chance = chanceFrom(3)
    let [rawError, shrunkError] = [0, 0]
    for (let station = 0; station < 100; station++) {
      const truths = Array.from({ length: 10 }, () => 0.2 + 1.5 * chance.uniform())
      const points = truths.map((rate) => {
        const watchedNights = chance.whole(1, 7)
        return of(chance.count(rate * watchedNights), watchedNights)
      })
      const prior = ratePrior(points)!
      points.forEach((point, i) => {
        const { raw, shrunk } = shrunkRate(point, prior)!
        rawError += (raw - truths[i]!) ** 2
        shrunkError += (shrunk - truths[i]!) ** 2
      })
    }
    console.log(
      `squared error: ${rawError.toFixed(1)} as counted, ${shrunkError.toFixed(1)} drawn towards the mean`,
    )
    expect(shrunkError).toBeLessThan(0.8 * rawError)
  })
})
