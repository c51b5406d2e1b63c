import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { signFlipP } from '../../../services/learning/sign-flip.ts'
import { compareNamers, isTimeToAsk, type Outcome, TRIAL_LEVEL } from '../../../services/learning/trial.ts'
import { binomialInterval } from '../../../services/tally/binomial-interval.ts'

/** Every way to flip the signs, one by one. */
function enumerated(differences: readonly number[]): number {
  const seen = differences.reduce((a, b) => a + b, 0)
  let atLeast = 0
  for (let way = 0; way < 2 ** differences.length; way++) {
    const sum = differences.reduce((total, one, i) => total + ((way >> i) & 1 ? -one : one), 0)
    if (sum >= seen) atLeast++
  }
  return atLeast / 2 ** differences.length
}

describe('the sign-flip test', () => {
  it('counts exactly the ways that listing them one by one counts', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -6, max: 6 }), { maxLength: 10 }), (differences) => {
        expect(signFlipP(differences)).toBeCloseTo(enumerated(differences), 12)
      }),
    )
  })

  it('gives one way in 2^7 when seven night-cameras all gained', () => {
    expect(signFlipP([1, 2, 1, 3, 1, 1, 2])).toBe(1 / 128)
  })

  it('can say nothing where nothing differed', () => {
    expect(signFlipP([])).toBe(1)
    expect(signFlipP([0, 0])).toBe(1)
  })

  it('holds for thousands of night-cameras', () => {
    // Normal approximation: the sum is 120, its deviation the root of 4000, in steps of 2: 1 - pnorm(119 / 63.25) = 0.030.
    const p = signFlipP([...Array(2060).fill(1), ...Array(1940).fill(-1)])
    expect(p).toBeGreaterThan(0.029)
    expect(p).toBeLessThan(0.031)
  })

  it('refuses a difference that is not whole', () => {
    expect(() => signFlipP([0.5])).toThrow(RangeError)
  })
})

describe('two namers that are equally good, on visits of three crops that go right or wrong together', () => {
  const SIMULATED = 4000
  const random = seeded(7)
  let bySigns = 0
  let byCrops = 0
  for (let run = 0; run < SIMULATED; run++) {
    const gains = Array.from({ length: 300 }, () => {
      let gain = 0
      // One to three visits a night-camera; a tenth of the visits named wrongly by each.
      for (let visit = 0; visit < 1 + Math.floor(3 * random()); visit++)
        gain += 3 * (Number(random() < 0.1) - Number(random() < 0.1))
      return gain
    })
    if (signFlipP(gains) <= TRIAL_LEVEL) bySigns++
    // McNemar's exact test on crops, as if each crop were a witness of its own, is this test with each gain cut in ones.
    const ones = gains.flatMap((gain) => Array<number>(Math.abs(gain)).fill(Math.sign(gain)))
    if (signFlipP(ones) <= TRIAL_LEVEL) byCrops++
  }

  it('one takes the other’s place in 1 of 100 trials, within the error of the simulation', () => {
    const { low, high } = binomialInterval(bySigns, SIMULATED, 0.99)
    expect(low).toBeLessThanOrEqual(TRIAL_LEVEL)
    expect(high).toBeGreaterThanOrEqual(TRIAL_LEVEL)
  })

  it('a test over crops would let it happen far more often', () => {
    expect(byCrops / SIMULATED).toBeGreaterThan(4 * TRIAL_LEVEL)
  })
  console.log(`taken by chance: ${bySigns} of ${SIMULATED} by night-cameras, ${byCrops} by crops`)
})

describe('the station’s own namer', () => {
  const on = (nightCamera: number, truth: string, right: { base: boolean; station: boolean }): Outcome => ({
    nightCamera: String(nightCamera),
    truth,
    baseRight: right.base,
    stationRight: right.station,
  })
  const gained = Array.from({ length: 10 }, (_, i) => on(i, 'camel', { base: false, station: true }))

  it('is taken when it names better on night after night', () => {
    expect(compareNamers(gained)).toMatchObject({
      verdict: 'take',
      p: 2 ** -10,
      baseWrong: 10,
      stationWrong: 0,
    })
  })

  it('is not taken when it could be chance', () => {
    const lost = Array.from({ length: 9 }, (_, i) => on(20 + i, 'camel', { base: true, station: false }))
    expect(compareNamers([...gained, ...lost]).verdict).toBe('no better than chance')
  })

  it('is not taken on fewer night-cameras than could ever show it', () => {
    expect(compareNamers(gained.slice(0, 6)).verdict).toBe('too few nights')
    expect(compareNamers(gained.slice(0, 7)).verdict).toBe('take')
  })

  it('is not taken when it names one species worse, however much better it is over all', () => {
    const donkeys = Array.from({ length: 10 }, (_, i) => on(i, 'donkey', { base: true, station: i > 0 }))
    expect(compareNamers([...gained, ...gained, ...donkeys]).verdict).toBe('worse for a species')
    expect(compareNamers([...gained, ...gained, ...donkeys], 0.1).verdict).toBe('take')
  })

  it('is asked for again once the checks have doubled, not before', () => {
    expect([isTimeToAsk(59, null), isTimeToAsk(60, null)]).toEqual([false, true])
    expect([isTimeToAsk(119, 60), isTimeToAsk(120, 60)]).toEqual([false, true])
  })
})

/** Park & Miller's minimal standard generator (1988, doi:10.1145/63039.63042), so that the simulation is one and the same. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
}
