import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { signFlipP } from '../../../services/learning/sign-flip.ts'
import { isSpoilt, MOST_WORSE } from '../../../services/learning/spoilt.ts'
import { compareNamers, isTimeToAsk, type Outcome, TRIAL_LEVEL } from '../../../services/learning/trial.ts'
import { binomialInterval } from '../../../services/tally/binomial-interval.ts'
import type { Name } from '../../../services/words.ts'

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
  const on = (nightCamera: number, truth: Name, counted: { base: Name; station: Name }): Outcome => ({
    nightCamera: String(nightCamera),
    truth,
    ...counted,
  })
  const much = Array.from({ length: 40 }, (_, i) => on(i, 'camel', { base: 'horse', station: 'camel' }))
  const gained = much.slice(0, 10)

  it('is taken when what is counted comes out right on night after night', () => {
    expect(compareNamers(gained)).toMatchObject({
      verdict: 'take',
      p: 2 ** -10,
      baseWrong: 10,
      stationWrong: 0,
      ofEach: [{ name: 'camel', crops: 10, baseFalse: 0 }],
    })
  })

  it('is not taken when it could be chance', () => {
    const lost = Array.from({ length: 9 }, (_, i) => on(20 + i, 'camel', { base: 'camel', station: 'horse' }))
    expect(compareNamers([...gained, ...lost]).verdict).toBe('no better than chance')
  })

  it('is not taken on fewer night-cameras than could ever show it', () => {
    expect(compareNamers(gained.slice(0, 6)).verdict).toBe('too few nights')
    expect(compareNamers(gained.slice(0, 7)).verdict).toBe('take')
  })

  it('is not taken when it spoils one species’ count, however much better it is over all', () => {
    const cattle = (lost: number) =>
      Array.from({ length: 30 }, (_, i) =>
        on(100 + i, 'cattle', { base: 'cattle', station: i < lost ? 'other' : 'cattle' }),
      )
    // 2 of 30 are over 5 points, and 2 night-cameras of 2 are a p of 0.25; 4 are a p of 0.06; 5 are over 15 points.
    const verdicts = [0, 2, 4, 5].map((lost) => compareNamers([...much, ...cattle(lost)]).verdict)
    expect(verdicts).toEqual(['take', 'take', 'worse for a species', 'worse for a species'])
    const inOneNight = cattle(5).map((one) => ({ ...one, nightCamera: 'one' }))
    expect(compareNamers([...much, ...inOneNight]).verdict).toBe('worse for a species')
  })

  it('is not taken when it finds cattle where there are none', () => {
    const cattle = Array.from({ length: 20 }, (_, i) =>
      on(100 + i, 'cattle', { base: 'cattle', station: 'cattle' }),
    )
    const dogs = Array.from({ length: 4 }, (_, i) =>
      on(50 + i, 'other', { base: 'other', station: 'cattle' }),
    )
    const trial = compareNamers([...much, ...cattle, ...dogs])
    expect(trial.verdict).toBe('worse for a species')
    expect(trial.ofEach.find(({ name }) => name === 'cattle')).toMatchObject({
      stationWrong: 0,
      stationFalse: 4,
      isSpoilt: true,
    })
  })

  it('is asked for again once the checks have doubled, not before', () => {
    expect([isTimeToAsk(59, null), isTimeToAsk(60, null)]).toEqual([false, true])
    expect([isTimeToAsk(119, 60), isTimeToAsk(120, 60)]).toEqual([false, true])
  })
})

/** Cattle on visits of one or two that go right or wrong together, some visits of one night-camera; a tenth wrong by the base. */
function refused(crops: number, worseBy: number): { readonly flat: number; readonly spoilt: number } {
  const SIMULATED = 1000
  const random = seeded(11)
  let flat = 0
  let spoilt = 0
  for (let run = 0; run < SIMULATED; run++) {
    const outcomes: Outcome[] = []
    for (let nightCamera = 0; outcomes.length < crops; ) {
      const both = random() < 0.05
      const base = both || random() < 0.0526 ? 'other' : 'cattle'
      const station = both || random() < (0.05 + worseBy) / 0.95 ? 'other' : 'cattle'
      const one = { nightCamera: String(nightCamera), truth: 'cattle', base, station } as const
      for (let of = random() < 0.5 ? 1 : 2; of > 0 && outcomes.length < crops; of--) outcomes.push(one)
      if (random() < 0.6) nightCamera++
    }
    const lost = (of: 'base' | 'station') => outcomes.filter((one) => one[of] !== one.truth).length
    if (lost('station') - lost('base') > MOST_WORSE * crops) flat++
    if (isSpoilt(outcomes, 'cattle')) spoilt++
  }
  return { flat: flat / SIMULATED, spoilt: spoilt / SIMULATED }
}

describe('the limit for one species, simulated', () => {
  const table = [0, 0.1, 0.2].map((worseBy) => [20, 57, 200].map((crops) => refused(crops, worseBy)))
  console.log(
    'refused for cattle that come out 0, 10, 20 points worse, of 20, 57, 200 crops, ' +
      `with a flat limit: ${table.map((row) => row.map(({ flat }) => flat.toFixed(2)).join(' ')).join(' / ')}; ` +
      `as it is: ${table.map((row) => row.map(({ spoilt }) => spoilt.toFixed(2)).join(' ')).join(' / ')}`,
  )

  it('refuses hardly a namer that harms no cattle, where a flat limit would refuse one of six on few crops', () => {
    for (const { spoilt } of table[0]!) expect(spoilt).toBeLessThan(0.06)
    expect(table[0]![0]!.flat).toBeGreaterThan(0.15)
  })

  it('lets hardly one pass that names a fifth more of many cattle wrongly', () => {
    expect(table[2]![1]!.spoilt).toBeGreaterThan(0.7)
    expect(table[2]![2]!.spoilt).toBeGreaterThan(0.98)
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
