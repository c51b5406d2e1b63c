import { describe, expect, test } from 'vitest'
import { bestSpecies, pooledScores, runnerUpScore } from '../../../../worker/eye/pool.ts'

// Order of scores: cattle, camel, horse, donkey, goat, other (models/manifest.json, columns)
describe('the pooled score', () => {
  test('follows the manifest’s sentence on numbers worked by hand', () => {
    const scores = { detector: [0.6, 0, 0.2, 0, 0, 0], namer: [0.5, 0, 0.5, 0, 0, 0] }
    // p = 0.6, sum = 0.8. cattle: 0.5 x (0.15 + 0.75) = 0.45; horse: 0.5 x (0.15 + 0.25) = 0.2
    // q: 0.45 / 0.65 and 0.2 / 0.65; scores sqrt(0.6 q)
    const [cattle, camel, horse] = pooledScores(scores)
    expect(cattle).toBeCloseTo(Math.sqrt((0.6 * 0.45) / 0.65), 12)
    expect(camel).toBe(0)
    expect(horse).toBeCloseTo(Math.sqrt((0.6 * 0.2) / 0.65), 12)
    expect(runnerUpScore(scores)).toBeCloseTo(Math.sqrt((0.6 * 0.2) / 0.65), 12)
  })

  test('a sure namer overrules a detector that gave the species nothing', () => {
    const scores = { detector: [0.5, 0, 0, 0, 0, 0], namer: [0.1, 0.9, 0, 0, 0, 0] }
    // cattle: 0.1 x 1.15 = 0.115; camel: 0.9 x 0.15 = 0.135
    expect(bestSpecies(pooledScores(scores)).species).toBe('camel')
  })

  test('"other" takes its share and is never the name', () => {
    const scores = { detector: [0.1, 0, 0, 0, 0, 0.8], namer: [0.1, 0, 0, 0, 0, 0.9] }
    const { species, score } = bestSpecies(pooledScores(scores))
    expect(species).toBe('cattle')
    // cattle: 0.1 x (0.15 + 1/9) = 0.026111; other: 0.9 x (0.15 + 8/9) = 0.935
    expect(score).toBeCloseTo(Math.sqrt((0.8 * 0.0261111111) / (0.0261111111 + 0.935)), 6)
  })

  test('without a namer the detector’s own share names', () => {
    const scores = { detector: [0.6, 0.2, 0, 0, 0, 0], namer: null }
    // sqrt(0.6 x 0.75) and sqrt(0.6 x 0.25)
    const { species, score, runnerUp } = bestSpecies(pooledScores(scores))
    expect(species).toBe('cattle')
    expect(score).toBeCloseTo(Math.sqrt(0.6 * 0.75), 12)
    expect(runnerUp).toBeCloseTo(Math.sqrt(0.6 * 0.25), 12)
  })

  test('a box without any score is nothing, not a number that is none', () => {
    expect(pooledScores({ detector: [0, 0, 0, 0, 0, 0], namer: null })).toEqual([0, 0, 0, 0, 0])
  })
})
