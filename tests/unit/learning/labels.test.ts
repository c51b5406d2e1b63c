import { describe, expect, it } from 'vitest'
import { labelsOf, type Marks, type StandingCount } from '../../../services/learning/labels.ts'
import { SPECIES, type Species } from '../../../services/words.ts'

const MARKS = Object.fromEntries(SPECIES.map((one) => [one, { count: 0.5, flag: 0.35 }])) as Marks

/** Boxes `camel .9, horse .4`, numbered from 1. */
const boxes = (...said: ReadonlyArray<readonly [Species, number, string?]>) =>
  said.map(([species, score, own], i) => ({
    id: i + 1,
    species,
    score,
    box: [i, 0, i + 1, 1] as const,
    ownKind: own ?? null,
  }))
const word = (counts: StandingCount['counts'], more: Partial<StandingCount> = {}): StandingCount => ({
  counts,
  others: null,
  drawn: [],
  ...more,
})
const labels = (said: StandingCount, of: ReturnType<typeof boxes>) =>
  Object.fromEntries(labelsOf(said, of, MARKS).map(({ boxId, kind }) => [boxId, kind]))

describe('which box is which animal', () => {
  it('is what it was counted as, where the person agreed', () => {
    const found = boxes(['camel', 0.9], ['camel', 0.6], ['cattle', 0.5], ['horse', 0.4])
    // The horse under its mark was not counted: whether it is one nobody said.
    expect(labels(word({ camel: 2, cattle: 1 }), found)).toEqual({ 1: 'camel', 2: 'camel', 3: 'cattle' })
  })

  it('is the one kind that is there, where there are as many as boxes', () => {
    expect(labels(word({ donkey: 2 }), boxes(['horse', 0.9], ['camel', 0.6]))).toEqual({
      1: 'donkey',
      2: 'donkey',
    })
    expect(labels(word({}, { others: { sheep: 1 } }), boxes(['goat', 0.9]))).toEqual({ 1: 'sheep' })
  })

  it('may be under its mark where only so the number is right', () => {
    expect(labels(word({ camel: 2 }), boxes(['camel', 0.9], ['camel', 0.4]))).toEqual({
      1: 'camel',
      2: 'camel',
    })
  })

  it('is the species that came where another went', () => {
    const found = boxes(['horse', 0.9], ['cattle', 0.8], ['cattle', 0.8])
    expect(labels(word({ donkey: 1, cattle: 2 }), found)).toEqual({ 1: 'donkey', 2: 'cattle', 3: 'cattle' })
    expect(labels(word({ cattle: 2 }, { others: { dog: 1 } }), found)).toEqual({
      1: 'dog',
      2: 'cattle',
      3: 'cattle',
    })
  })

  it('is the own kind that was named, where own kinds are said', () => {
    const found = boxes(
      ['cattle', 0.9],
      ['goat', 0.1, 'sheep'],
      ['goat', 0.2, 'sheep'],
      ['cattle', 0.6, 'sheep'],
    )
    // The last is counted, so it stands for cattle.
    expect(labels(word({ cattle: 2 }, { others: { sheep: 2 } }), found)).toEqual({
      1: 'cattle',
      2: 'sheep',
      3: 'sheep',
      4: 'cattle',
    })
    expect(labels(word({ cattle: 2 }, { others: { dog: 2 } }), found)).toMatchObject({ 2: 'dog', 3: 'dog' })
    // Who says nothing of own kinds may have thought of the five alone.
    expect(labels(word({ cattle: 2 }), found)).toEqual({ 1: 'cattle', 4: 'cattle' })
    expect(labels(word({}), boxes(['goat', 0.4, 'sheep'], ['camel', 0.4]))).toEqual({ 2: 'other' })
    expect(labels(word({}, { others: { sheep: 2 } }), found.slice(1, 3))).toEqual({ 2: 'sheep', 3: 'sheep' })
  })

  it('is none of the five where nothing is there', () => {
    expect(labels(word({}), boxes(['camel', 0.9], ['horse', 0.4], ['horse', 0.2]))).toEqual({
      1: 'other',
      2: 'other',
    })
  })

  it('is not known where a box could be one or another', () => {
    const mixed = boxes(['camel', 0.9], ['camel', 0.8], ['horse', 0.7])
    for (const counts of [
      { camel: 1, horse: 1 },
      { camel: 1, horse: 2 },
      { donkey: 2 },
      { camel: 3, horse: 1 },
      { cattle: 2, donkey: 1 },
      { camel: 1, donkey: 2 },
    ]) {
      expect(labels(word(counts), mixed)).toEqual({})
    }
    expect(labels(word({}, { others: { dog: 1 } }), boxes(['goat', 0.9], ['goat', 0.9]))).toEqual({})
  })

  it('leaves the animals that a person drew out of the count', () => {
    const drawn = [{ species: 'camel', box: [5, 5, 9, 9] }] as const
    expect(labels(word({ camel: 2 }, { drawn }), boxes(['camel', 0.9]))).toEqual({ 1: 'camel' })
    // The only animal there was drawn: what the machine took for one is none.
    expect(labels(word({ camel: 1 }, { drawn }), boxes(['horse', 0.9]))).toEqual({ 1: 'other' })
    expect(labels(word({}, { drawn }), boxes(['camel', 0.9]))).toEqual({})
  })
})
