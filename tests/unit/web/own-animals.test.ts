import { describe, expect, it } from 'vitest'
import type { NamersAnswer } from '../../../services/http/own-animal-shapes.ts'
import {
  againOffer,
  kindTitle,
  learntFromWords,
  leftWords,
  speciesTrialWords,
  standingWords,
  verdictWords,
} from '../../../web/text/own-animals.ts'

type Version = NamersAnswer['versions'][number]
type OfOne = Version['trial']['ofEach'][number]

const one = (change: Partial<OfOne> = {}): OfOne => ({
  name: 'cattle',
  animals: 57,
  missedBefore: 8,
  missedNow: 9,
  falseBefore: 14,
  falseNow: 6,
  worse: false,
  ...change,
})
const version = (change: Partial<Version> = {}, trial: Partial<Version['trial']> = {}): Version => ({
  version: 3,
  madeAt: '2026-11-24T10:00:00+10:30',
  animals: 519,
  kinds: ['cattle', 'camel', 'sheep'],
  seed: 'a',
  ridge: 0.01,
  verdict: 'take',
  trial: { animals: 519, nights: 85, wrongBefore: 85, wrongNow: 68, p: 0.003, ofEach: [one()], ...trial },
  ...change,
})
const namers = (change: Partial<NamersAnswer> = {}): NamersAnswer => ({
  canLearn: true,
  isOn: true,
  takesNew: true,
  inUse: null,
  absent: [],
  atWork: false,
  animals: 40,
  triedAt: 60,
  ofEach: [],
  versions: [],
  ...change,
})

describe('what was learnt of the station’s own animals', () => {
  it('stands in a sentence: on, off, or when it tries', () => {
    expect(standingWords(namers())).toBe(
      'Photos are named as Hooftally came. 40 checked animals so far; it tries at 60.',
    )
    expect(standingWords(namers({ versions: [version()], inUse: 3 }))).toBe(
      'On: photos are named by what was learnt from 519 checked animals, on Tue 24 Nov.',
    )
    expect(standingWords(namers({ versions: [version()], isOn: false, atWork: true }))).toBe(
      'Turned off: photos are named as Hooftally came. It is learning just now.',
    )
    expect(standingWords(namers({ versions: [version()], animals: 600, triedAt: 1038 }))).toMatch(
      /600 checked animals so far; it tries again at 1,038\.$/,
    )
  })

  it('tells how its trial went, and why it is not used', () => {
    expect(verdictWords(version())).toBe(
      '20 in 100 fewer were counted wrongly: 68 of 519 animals, 85 before.',
    )
    expect(verdictWords(version({ verdict: 'no better than chance' }, { wrongNow: 85 }))).toBe(
      'As many were counted wrongly as before: 85 of 519 animals, 85 before. That may be chance, so it is not used.',
    )
    expect(verdictWords(version({ verdict: 'no better than chance' }, { wrongNow: 102 }))).toMatch(
      /^20 in 100 more were/,
    )
    expect(
      verdictWords(version({ verdict: 'worse for a species' }, { ofEach: [one({ worse: true })] })),
    ).toMatch(/But it would count cattle worse, so it is not used\.$/)
    expect(verdictWords(version({ verdict: 'too few nights' }))).toMatch(/too few nights/)
    expect(verdictWords(version({}, { wrongNow: 0 }))).toBe(
      'None of 519 animals was counted wrongly, 85 before.',
    )
  })

  it('tells of each species, and which are named as before', () => {
    expect(speciesTrialWords(one())).toBe('better')
    expect(speciesTrialWords(one({ falseNow: 13 }))).toBe('no worse')
    expect(speciesTrialWords(one({ falseNow: 15 }))).toBe('no worse')
    expect(speciesTrialWords(one({ worse: true }))).toBe('worse')
    expect(leftWords(version())).toBe(
      'Horses, donkeys and goats are named exactly as before: too few were checked.',
    )
    expect(leftWords(version({ kinds: ['cattle', 'camel', 'horse', 'donkey', 'goat'] }))).toBe('')
  })

  it('tells what there is to learn from', () => {
    expect(learntFromWords({ kind: 'camel', animals: 44, nights: 1, enough: true }, [])).toBe(
      '44 animals, 1 night: enough',
    )
    expect(learntFromWords({ kind: 'camel', animals: 0, nights: 0, enough: false }, [])).toMatch(
      /none checked yet/,
    )
    expect(learntFromWords({ kind: 'goat', animals: 1, nights: 1, enough: false }, ['goat'])).toBe(
      'never on this station',
    )
    expect(['cattle', 'sheep', 'other'].map(kindTitle)).toEqual(['Cattle', 'Sheep', 'Anything else'])
  })

  it('offers what can be named again', () => {
    const models = { name: 'made-up', version: '1', stationNamer: 3 }
    expect(againOffer({ photos: 1, from: null, to: null, models })).toMatch(
      /^1 photo worth a look .* was named/,
    )
    expect(againOffer({ photos: 0, from: null, to: null, models })).toMatch(/^Every photo worth a look/)
  })
})
