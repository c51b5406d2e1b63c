import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { binomialInterval } from '../../../services/tally/binomial-interval.ts'
import { brierScore } from '../../../services/tally/brier-score.ts'
import { confusionTable } from '../../../services/tally/confusion.ts'
import { reliabilityCurve } from '../../../services/tally/reliability.ts'
import { atThreshold, cheapestThreshold, thresholdCurve } from '../../../services/tally/threshold-curve.ts'

describe('the Brier score', () => {
  it('is 0 for names that were sure and right, 2 for sure and wrong', () => {
    expect(brierScore([{ chances: [1, 0], truth: 0 }])).toBe(0)
    expect(brierScore([{ chances: [1, 0], truth: 1 }])).toBe(2)
  })

  it('is the summed squares over all names, on the average', () => {
    // By hand: (0.3^2 + 0.2^2 + 0.1^2) = 0.14 and (0.5^2 + 0.5^2) = 0.5.
    const forecasts = [
      { chances: [0.7, 0.2, 0.1], truth: 0 },
      { chances: [0.5, 0.5, 0], truth: 1 },
    ]
    expect(brierScore(forecasts)).toBeCloseTo((0.14 + 0.5) / 2, 12)
  })

  it('is best for those who say the chances as they are', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 20 }), (so, said) => {
        const score = (chance: number) =>
          brierScore(
            Array.from({ length: 20 }, (_, i) => ({ chances: [chance, 1 - chance], truth: i < so ? 0 : 1 })),
          )!
        expect(score(so / 20)).toBeLessThanOrEqual(score(said / 20) + 1e-12)
      }),
    )
  })

  it('is not there without forecasts', () => {
    expect(brierScore([])).toBeNull()
  })
})

describe('the reliability curve', () => {
  it('sets the mean score of a bin against the share that was so, with its exact interval', () => {
    const scored = [0.71, 0.75, 0.79, 0.05].map((score, i) => ({ score, isSo: i < 2 }))
    const [low, high] = reliabilityCurve(scored)
    expect(low).toMatchObject({ from: 0, count: 1, meanScore: 0.05 })
    expect(high).toMatchObject({ from: 0.7, count: 3, observed: binomialInterval(2, 3) })
    expect(high!.meanScore).toBeCloseTo(0.75, 12)
  })

  it('has a score of 1 in its last bin', () => {
    expect(reliabilityCurve([{ score: 1, isSo: true }])).toMatchObject([{ from: 0.9, to: 1 }])
  })
})

describe('the confusion table', () => {
  it('counts what each animal truly was against what it was named', () => {
    const animals = [
      { truth: 'camel', named: 'camel' },
      { truth: 'camel', named: 'horse' },
      { truth: 'horse', named: 'horse' },
    ] as const
    expect(confusionTable(animals, ['camel', 'horse'])).toEqual({
      names: ['camel', 'horse'],
      counts: [
        [1, 1],
        [0, 1],
      ],
      animals: 3,
      wrong: 1,
    })
  })
})

describe('the curve of thresholds', () => {
  const judged = [
    { score: 0.9, isSo: true, weight: 1 },
    { score: 0.6, isSo: false, weight: 1 },
    { score: 0.5, isSo: true, weight: 1 },
    { score: 0.5, isSo: false, weight: 1 },
    { score: 0, isSo: true, weight: 1 },
  ]
  const curve = thresholdCurve(judged)

  it('goes from flagging none to flagging all, equal scores together', () => {
    expect(curve.map(({ threshold, flagged }) => [threshold, flagged])).toEqual([
      [Number.POSITIVE_INFINITY, 0],
      [0.9, 1],
      [0.6, 2],
      [0.5, 4],
    ])
  })

  it('tells precision and recall at each', () => {
    expect(curve.at(-1)).toMatchObject({ precision: 0.5, recall: 2 / 3, falseFlags: 2, missed: 1 })
    expect(curve[0]).toMatchObject({ precision: null, recall: 0 })
  })

  it('never finds an animal that got no box', () => {
    expect(Math.min(...curve.map(({ missed }) => missed))).toBe(1)
  })

  it('lets a drawn photo stand for all it was drawn from', () => {
    const weighted = thresholdCurve([...judged, { score: 0.2, isSo: true, weight: 10 }])
    expect(atThreshold(weighted, 0.5)).toMatchObject({ missed: 11 })
  })

  it('does at a threshold between two scores what the higher one does', () => {
    expect(atThreshold(curve, 0.55)).toMatchObject({ threshold: 0.55, flagged: 2 })
    expect(atThreshold(curve, 0.95)).toMatchObject({ flagged: 0 })
  })

  it('is cheapest high when misses cost little, low when they cost much', () => {
    expect(cheapestThreshold(curve, 0.5).threshold).toBe(0.9)
    expect(cheapestThreshold(curve, 5).threshold).toBe(0.5)
  })

  it('costs no more at the proposed threshold than at any other', () => {
    const scores = fc.record({
      score: fc.double({ min: 0, max: 1, noNaN: true }),
      isSo: fc.boolean(),
      weight: fc.integer({ min: 1, max: 9 }),
    })
    fc.assert(
      fc.property(fc.array(scores, { maxLength: 30 }), fc.integer({ min: 1, max: 20 }), (all, missCost) => {
        const cost = (threshold: number) =>
          all.reduce((sum, { score, isSo, weight }) => {
            const flagged = score > 0 && score >= threshold
            return sum + (isSo && !flagged ? missCost * weight : 0) + (!isSo && flagged ? weight : 0)
          }, 0)
        const proposed = cheapestThreshold(thresholdCurve(all), missCost).threshold
        for (const { score } of all) expect(cost(proposed)).toBeLessThanOrEqual(cost(score))
      }),
    )
  })
})
