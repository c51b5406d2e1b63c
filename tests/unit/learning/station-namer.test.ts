import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { CheckedCrop } from '../../../services/learning/crop.ts'
import { foldsOfNights } from '../../../services/learning/folds.ts'
import {
  BASE_NAMES,
  baseLogProbabilities,
  bestName,
  kindsWith,
  sixNames,
} from '../../../services/learning/kinds.ts'
import { LEAST_CROPS } from '../../../services/learning/learned-kinds.ts'
import { minimise } from '../../../services/learning/minimise.ts'
import { RIDGES } from '../../../services/learning/ridge.ts'
import { fitRegression } from '../../../services/learning/softmax-regression.ts'
import { spanOf } from '../../../services/learning/span.ts'
import { learnStationNamer, nameByStation } from '../../../services/learning/station-namer.ts'
import { undecided } from '../../../services/learning/teaches-most.ts'
import { tryStationNamer } from '../../../services/learning/trial.ts'
import type { NightDate } from '../../../services/words.ts'

const NUMBERS = 40
const MARKS = { cattle: 0.5, camel: 0.5, horse: 0.5, donkey: 0.5, goat: 0.5 }
const EVEN = BASE_NAMES.map(() => 1 / BASE_NAMES.length)

/** Crops of invented animals: each kind looks its own way, with noise; the base takes every donkey for a horse. */
function station(given: {
  readonly nights: number
  readonly kinds: readonly string[]
  readonly isNews?: boolean
}) {
  const random = seeded(3)
  const noise = () => random() + random() + random() - 1.5
  const looks = new Map(given.kinds.map((kind) => [kind, Array.from({ length: NUMBERS }, noise)]))
  return Array.from({ length: given.nights }, (_, night) =>
    given.kinds.flatMap((kind) =>
      [1, 2, 3].map((): CheckedCrop => {
        const base =
          kind === 'donkey' ? 'horse' : (BASE_NAMES as readonly string[]).includes(kind) ? kind : 'other'
        return {
          kind,
          night: `2025-06-${String(night + 1).padStart(2, '0')}` as NightDate,
          camera: 'Kite Bore',
          embedding: looks.get(kind)!.map((part) => (given.isNews === false ? 0 : part) + 0.3 * noise()),
          scores: BASE_NAMES.map((name) => (name === base ? 0.7 : 0.06)),
          // The detector sees that it is an animal, and no more; what is none of the five it knows as such.
          detector: BASE_NAMES.map(() => (base === 'other' ? 0.2 : 0.9)),
        }
      }),
    ),
  ).flat()
}

describe('the kinds a namer tells apart', () => {
  it('are the six names and the owner’s own', () => {
    expect(kindsWith(['sheep'])).toEqual([...BASE_NAMES, 'sheep'])
    expect(() => kindsWith(['camel'])).toThrow(RangeError)
    expect(() => kindsWith(['dog', 'dog'])).toThrow(RangeError)
  })

  it('share out what the base calls "other", so that a kind not yet taught changes no animal’s name', () => {
    const scores = [0.1, 0.2, 0.05, 0.05, 0.1, 0.5]
    const kinds = baseLogProbabilities(scores, 4).map(Math.exp)
    for (const [name, score] of sixNames(kinds).entries()) expect(score).toBeCloseTo(scores[name]!, 12)
    expect(kinds[5]).toBeCloseTo(0.1, 12)
  })

  it('survive a score of 0', () => {
    expect([...baseLogProbabilities([1, 0, 0, 0, 0, 0], 1)].every(Number.isFinite)).toBe(true)
  })
})

describe('the regression', () => {
  it('says what the base says when a great ridge holds everything back', () => {
    const crops = station({ nights: 2, kinds: ['camel', 'donkey'] })
    const kinds = kindsWith([])
    const features = {
      values: Float64Array.from(crops.flatMap(({ embedding }) => [...Array.from(embedding)])),
      columns: NUMBERS,
    }
    const offsets = {
      values: Float64Array.from(crops.flatMap(({ scores }) => [...baseLogProbabilities(scores, 0)])),
      columns: kinds.length,
    }
    const sample = { features, offsets, kinds: Int32Array.from(crops, ({ kind }) => kinds.indexOf(kind)) }
    const { weights } = fitRegression(sample, 1e9)
    expect(Math.max(...weights.values.map(Math.abs))).toBeLessThan(1e-6)
  })

  it('finds the bottom of a valley far longer than wide', () => {
    const { at } = minimise(
      (x, slope) => {
        slope[0] = 2 * (x[0]! - 3)
        slope[1] = 2e4 * (x[1]! + 1)
        return (x[0]! - 3) ** 2 + 1e4 * (x[1]! + 1) ** 2
      },
      Float64Array.of(0, 0),
      1e-9,
    )
    expect(at[0]).toBeCloseTo(3, 8)
    expect(at[1]).toBeCloseTo(-1, 8)
  })
})

describe('the span of the crops', () => {
  it('keeps lengths and angles between crops, and every score, whatever the crops', () => {
    const rows = fc.array(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 6, maxLength: 6 }), {
      minLength: 1,
      maxLength: 5,
    })
    fc.assert(
      fc.property(rows, (crops) => {
        fc.pre(crops.some((crop) => crop.some((part) => part !== 0)))
        const { features, unfold } = spanOf({ values: Float64Array.from(crops.flat()), columns: 6 })
        const placeOf = (row: number) => [
          ...features.values.slice(row * features.columns, (row + 1) * features.columns),
        ]
        const weights = {
          values: Float64Array.from({ length: features.columns }, (_, j) => j + 1),
          columns: features.columns,
        }
        const unfolded = [...unfold(weights).values]
        for (const [i, a] of crops.entries()) {
          for (const [j, b] of crops.entries()) expect(dot(placeOf(i), placeOf(j))).toBeCloseTo(dot(a, b), 6)
          expect(dot(placeOf(i), [...weights.values])).toBeCloseTo(dot(a, unfolded), 6)
        }
      }),
    )
  })
})

describe('folds', () => {
  it('never learn from and judge on photos of one night, at any camera', () => {
    const crops = station({ nights: 7, kinds: ['camel', 'horse'] })
    const folds = foldsOfNights(crops, { seed: 'a' })
    expect(folds).toHaveLength(5)
    for (const { learn, judge } of folds) {
      const learned = new Set([...learn].map((row) => crops[row]!.night))
      expect([...judge].some((row) => learned.has(crops[row]!.night))).toBe(false)
      expect(learn.length + judge.length).toBe(crops.length)
    }
    expect(folds.flatMap(({ judge }) => [...judge]).sort((a, b) => a - b)).toEqual([...crops.keys()])
  })

  it('are none when all photos are of one night', () => {
    expect(foldsOfNights(station({ nights: 1, kinds: ['camel'] }), { seed: 'a' })).toEqual([])
  })
})

describe('the station’s own namer', () => {
  const kinds = kindsWith(['sheep'])
  const crops = station({ nights: 10, kinds: ['camel', 'horse', 'donkey', 'sheep', 'other'] })

  it('learns the animals that the base takes for others, and the owner’s own kind', () => {
    const namer = learnStationNamer(crops, { kinds, seed: 'a' })
    const named = nameByStation(namer, crops)
    const right = named.filter(
      ({ kinds: chances }, i) => kinds[chances.indexOf(Math.max(...chances))] === crops[i]!.kind,
    )
    expect(right.length / crops.length).toBeGreaterThan(0.95)
    expect(named.every(({ scores }) => Math.abs(scores.reduce((a, b) => a + b, 0) - 1) < 1e-9)).toBe(true)
  })

  it('counts the owner’s own kinds as "other" where the six names are asked for', () => {
    const [sheep] = nameByStation(
      learnStationNamer(crops, { kinds, seed: 'a' }),
      crops.filter(({ kind }) => kind === 'sheep'),
    )
    expect(bestName(sheep!.scores)).toBe('other')
  })

  it('is the same again from the same checks and seed', () => {
    expect(learnStationNamer(crops, { kinds, seed: 'a' })).toEqual(
      learnStationNamer(crops, { kinds, seed: 'a' }),
    )
  })

  it('holds back as much as it can when all checks are of one night', () => {
    const oneNight = station({ nights: 10, kinds: ['camel', 'donkey'] }).map((crop, i) => ({
      ...crop,
      night: crops[0]!.night,
      camera: `camera ${i % 4}`,
    }))
    const namer = learnStationNamer(oneNight, { kinds, seed: 'a' })
    expect(namer.learned).toHaveLength(2)
    expect(namer.ridge).toBe(Math.max(...RIDGES))
  })

  it('leaves a kind that nobody checked, or seldom, exactly to the base', () => {
    const donkeys = crops.filter(({ kind }) => kind === 'donkey')
    const seldom = [...crops.filter(({ kind }) => kind !== 'donkey'), ...donkeys.slice(0, LEAST_CROPS - 1)]
    const namer = learnStationNamer(seldom, { kinds, seed: 'a' })
    const donkey = BASE_NAMES.indexOf('donkey')
    expect(namer.learned).not.toContain(donkey)
    expect(namer.crops).toBe(seldom.length - (LEAST_CROPS - 1))
    for (const [i, { scores }] of nameByStation(namer, crops).entries())
      expect(scores[donkey]).toBeCloseTo(crops[i]!.scores[donkey]!, 12)
  })

  it('leaves a kind that was seen in two night-cameras only to the base', () => {
    const twoNights = new Set(
      crops
        .slice(0, 1)
        .map(({ night }) => night)
        .concat(crops.at(-1)!.night),
    )
    const donkeys = crops.filter(({ kind, night }) => kind === 'donkey' && twoNights.has(night))
    const many = Array.from({ length: LEAST_CROPS }, (_, i) => donkeys[i % donkeys.length]!)
    const namer = learnStationNamer([...crops.filter(({ kind }) => kind !== 'donkey'), ...many], {
      kinds,
      seed: 'a',
    })
    expect(namer.learned).not.toContain(BASE_NAMES.indexOf('donkey'))
  })

  it('may name a species as something else where the owner says that it never comes here', () => {
    // Sheep, which the base takes for goats, and horses.
    const taken = station({ nights: 10, kinds: ['sheep', 'horse'] }).map((crop) =>
      crop.kind === 'sheep'
        ? { ...crop, scores: BASE_NAMES.map((name) => (name === 'goat' ? 0.7 : 0.06)) }
        : crop,
    )
    const sheep = taken.filter(({ kind }) => kind === 'sheep')
    const namesOf = (given: object) =>
      new Set(
        nameByStation(learnStationNamer(taken, { kinds, seed: 'a', ...given }), sheep).map(({ scores }) =>
          bestName(scores),
        ),
      )
    expect(namesOf({})).toEqual(new Set(['goat']))
    expect(namesOf({ absent: ['goat'] })).toEqual(new Set(['other']))
  })

  it('says what the base says where there is one kind only to learn', () => {
    const camels = crops.filter(({ kind }) => kind === 'camel')
    const namer = learnStationNamer(camels, { kinds, seed: 'a' })
    expect(namer.learned).toEqual([])
    for (const [i, { scores }] of nameByStation(namer, crops).entries())
      for (const [name, score] of scores.entries()) expect(score).toBeCloseTo(crops[i]!.scores[name]!, 12)
  })

  it('holds a species seldom checked as dear as one often checked', () => {
    // Ten camels to a goat, and photos that tell them apart by a little only.
    const rare = station({ nights: 30, kinds: ['camel', 'goat'], isNews: false })
    const few = rare.filter(({ kind }, i) => kind === 'camel' || i % 3 === 0)
    const even = few.map((crop) => ({ ...crop, scores: EVEN }))
    const named = nameByStation(learnStationNamer(even, { kinds, seed: 'a' }), even)
    const mean = (name: number) => named.reduce((sum, { scores }) => sum + scores[name]!, 0) / named.length
    expect(mean(BASE_NAMES.indexOf('goat'))).toBeGreaterThan(0.9 * mean(BASE_NAMES.indexOf('camel')))
  })

  it('is taken after a trial on nights it has not seen, when it names better there', () => {
    const trial = tryStationNamer(crops, { kinds, seed: 'a', marks: MARKS })
    expect(trial).toMatchObject({ verdict: 'take', crops: crops.length, nightCameras: 10, p: 2 ** -10 })
    // The base took every donkey for a horse.
    expect(trial.ofEach.find(({ name }) => name === 'donkey')).toMatchObject({
      crops: 30,
      baseWrong: 30,
      stationWrong: 0,
    })
  })

  it('is not taken where photos tell it nothing the base does not know', () => {
    const noNews = station({ nights: 10, kinds: ['camel', 'horse', 'sheep'], isNews: false })
    expect(tryStationNamer(noNews, { kinds, seed: 'a', marks: MARKS }).verdict).toBe('no better than chance')
  })

  it('refuses crops it can’t learn from, or name', () => {
    const namer = learnStationNamer(crops, { kinds, seed: 'a' })
    expect(() => learnStationNamer([], { kinds, seed: 'a' })).toThrow(RangeError)
    expect(() => learnStationNamer(crops, { kinds: kindsWith([]), seed: 'a' })).toThrow(
      'no kind is called sheep',
    )
    expect(() => nameByStation(namer, [{ embedding: [1, 2], scores: EVEN }])).toThrow(RangeError)
  })
})

describe('the crop that teaches most', () => {
  it('is the one between two kinds', () => {
    expect(undecided([0.5, 0.5, 0])).toBe(1)
    expect(undecided([1, 0, 0])).toBe(0)
    expect(undecided([0.2, 0.5, 0.3])).toBeCloseTo(0.8, 12)
  })
})

const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, part, i) => sum + part * b[i]!, 0)

/** Park & Miller's minimal standard generator (1988, doi:10.1145/63039.63042): the same station each time. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
}
