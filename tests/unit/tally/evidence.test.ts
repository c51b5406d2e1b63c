/** How right the models are on photos with a word, and what marks would do. */
import { describe, expect, it } from 'vitest'
import { boxTruths } from '../../../services/tally/box-truth.ts'
import type { JudgedBox } from '../../../services/tally/judge.ts'
import { markCurve, markEffects, marksToTry } from '../../../services/tally/mark-evidence.ts'
import { modelEvidence, type SpokenPhoto } from '../../../services/tally/model-evidence.ts'
import { atThreshold } from '../../../services/tally/threshold-curve.ts'
import {
  type Name,
  SPECIES,
  type Species,
  type Tally,
  type ThresholdsBySpecies,
} from '../../../services/words.ts'

const thresholds = Object.fromEntries(
  SPECIES.map((species) => [species, { count: 0.5, flag: 0.35 }]),
) as unknown as ThresholdsBySpecies
const box = (species: Species, score = 0.9) => ({ species, score })

describe('what a box truly was', () => {
  const truths = (boxes: ReturnType<typeof box>[], counts: Tally) =>
    boxTruths(boxes, counts, thresholds)?.map(({ named, truth }) => `${named} is ${truth}`) ?? null

  it('is nothing of the five where nothing is there', () => {
    expect(truths([box('camel'), box('goat')], {})).toEqual(['camel is other', 'goat is other'])
  })
  it('is the one species that is there, where there are no more boxes than head', () => {
    expect(truths([box('horse'), box('camel')], { camel: 3 })).toEqual(['horse is camel', 'camel is camel'])
  })
  it('can’t be told where one species is there and there are more boxes than head: one of them is nothing', () => {
    expect(truths([box('camel'), box('camel')], { camel: 1 })).toBeNull()
  })
  it('is its name where several species are there as they were counted, and can’t be told where they are not', () => {
    expect(truths([box('camel'), box('cattle')], { camel: 1, cattle: 1 })).toEqual([
      'camel is camel',
      'cattle is cattle',
    ])
    expect(truths([box('camel'), box('camel')], { camel: 1, cattle: 1 })).toBeNull()
  })
  it('is told of counted boxes alone', () => {
    expect(truths([box('camel', 0.49), box('camel', 0.5)], { camel: 1 })).toEqual(['camel is camel'])
  })
})

describe('a version of the models', () => {
  const photo = (rest: Partial<SpokenPhoto>): SpokenPhoto => ({
    cameraId: 1,
    light: 'day',
    counts: {},
    boxes: [],
    blind: false,
    ...rest,
  })
  const told = modelEvidence(
    [
      photo({ counts: { camel: 1 }, boxes: [box('camel', 0.8)] }),
      photo({ counts: { camel: 1 }, boxes: [box('horse', 0.6)], light: 'infra-red', blind: true }),
      photo({ counts: {}, boxes: [box('camel', 0.6)], cameraId: 2, light: 'infra-red' }),
      photo({ counts: { goat: 1, cattle: 1 }, boxes: [box('goat', 0.9)] }),
    ],
    thresholds,
  )

  it('has a table of what was taken for what, and says what it left out', () => {
    expect(told).toMatchObject({ photos: 4, blind: 1, untold: 1 })
    const { names, counts } = told.confusion
    const at = (truth: Name, named: Name) => counts[names.indexOf(truth)]?.[names.indexOf(named)]
    expect([at('camel', 'camel'), at('camel', 'horse'), at('other', 'camel')]).toEqual([1, 1, 1])
    expect([told.confusion.animals, told.confusion.wrong]).toEqual([3, 2])
  })
  it('is told by day and infra-red, and by camera', () => {
    expect(told.byLight).toMatchObject([
      { light: 'day', right: 1, of: 1 },
      { light: 'infra-red', right: 0, of: 2 },
    ])
    expect(told.byCamera).toMatchObject([
      { cameraId: 1, right: 1, of: 2 },
      { cameraId: 2, right: 0, of: 1 },
    ])
  })
  it('is as sure as it is right, photo by photo and species by species', () => {
    // 0.6: a horse that is none, a camel that is none; 0.8: a camel; 0.9: a goat.
    expect(told.reliability.map(({ from, count, observed }) => [from, count, observed.share])).toEqual([
      [0.6, 2, 0],
      [0.8, 1, 1],
      [0.9, 1, 1],
    ])
    // Twice the mean of squared distances, by hand: 2 (0.04 + 0.36 + 0.36 + 0.01) / 4.
    expect(told.brier).toBeCloseTo(0.385, 12)
  })
  it('of which nothing is known says so', () => {
    expect(modelEvidence([], thresholds)).toMatchObject({ photos: 0, brier: null, reliability: [] })
  })
})

describe('marks', () => {
  const found = (species: Species, score: number): JudgedBox => ({
    species,
    score,
    runnerUp: 0.01,
    box: [0, 0, 10, 10],
  })

  it('are told by photos, each for as many as it stands for', () => {
    const curve = markCurve(
      [
        { counts: { camel: 2 }, boxes: [box('camel', 0.8), box('camel', 0.3)], weight: 1 },
        { counts: { camel: 1 }, boxes: [box('camel', 0.4)], weight: 10 },
        { counts: {}, boxes: [box('camel', 0.4)], weight: 2 },
        { counts: { camel: 1 }, boxes: [], weight: 9 },
      ],
      'camel',
    )
    expect(atThreshold(curve, 0.5)).toMatchObject({ flagged: 1, falseFlags: 0, missed: 19, recall: 1 / 20 })
    expect(atThreshold(curve, 0.35)).toMatchObject({ flagged: 13, falseFlags: 2, missed: 9 })
  })

  it('would have made of last week what judging it by them makes', () => {
    const photos = [[found('camel', 0.8)], [found('camel', 0.4)], [found('camel', 0.2), found('horse', 0.9)]]
    const feral = new Set<Species>(['camel', 'horse'])
    const effects = markEffects(photos, {
      species: 'camel',
      thresholds,
      feral,
      others: 7,
      marks: [0.15, 0.35, 0.85],
    })
    // The horse is flagged whatever camels are.
    expect(effects).toEqual([
      { mark: 0.15, toLookAt: 10, counted: 3 },
      { mark: 0.35, toLookAt: 10, counted: 2 },
      { mark: 0.85, toLookAt: 8, counted: 0 },
    ])
  })

  it('to choose from hold those that are set', () => {
    const own = { ...thresholds, camel: { flag: 0.333, count: 0.5 } }
    expect(marksToTry(own, 'camel')).toContain(0.333)
    expect(marksToTry(own, 'camel').filter((mark) => mark === 0.5)).toHaveLength(1)
  })
})
