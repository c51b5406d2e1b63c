import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CLOSE_RUNNER_UP, type JudgedBox, judgeStill } from '../../../services/tally/judge.ts'
import { type Box, SPECIES, type Species, type ThresholdsBySpecies } from '../../../services/words.ts'

// The thresholds of models/manifest.json.
const shipped = { count: 0.5, flag: 0.35 }
const thresholds: ThresholdsBySpecies = {
  cattle: shipped,
  camel: shipped,
  horse: shipped,
  donkey: shipped,
  goat: shipped,
}
const FERAL: ReadonlySet<Species> = new Set(['camel', 'horse', 'donkey', 'goat'])
const judge = (found: readonly JudgedBox[], changed: Partial<ThresholdsBySpecies> = {}, feral = FERAL) =>
  judgeStill({ found, thresholds: { ...thresholds, ...changed }, feral })

/** Boxes 100 px wide; `place` 2 stands well clear of `place` 1. */
function box(species: Species, score: number, place: number, runnerUp = 0.1): JudgedBox {
  return { species, score, runnerUp, box: [place * 200, 0, place * 200 + 100, 100] }
}
const at = (x0: number, width = 100): Box => [x0, 0, x0 + width, 100]
const cow = (where: Box): JudgedBox => ({ species: 'cattle', score: 0.9, runnerUp: 0.1, box: where })

describe('the tally of a still', () => {
  it('counts boxes at or over the species’ count threshold', () => {
    const found = [box('cattle', 0.9, 1), box('cattle', 0.5, 2), box('camel', 0.7, 3)]
    expect(judge(found).tally).toEqual({ cattle: 2, camel: 1 })
  })

  it('leaves out what is under the threshold, and species that are not there', () => {
    expect(judge([box('cattle', 0.499, 1)]).tally).toEqual({})
    expect(judge([])).toEqual({ tally: {}, flagged: false, feral: false, unsure: false })
  })

  it('goes by each species’ own threshold', () => {
    const found = [box('goat', 0.6, 1), box('cattle', 0.6, 2)]
    expect(judge(found, { goat: { count: 0.7, flag: 0.3 } }).tally).toEqual({ cattle: 1 })
  })

  it('still counts where the owner flags only what is surer than counted', () => {
    const odd = { cattle: { count: 0.5, flag: 0.8 } }
    expect(judge([box('cattle', 0.6, 1)], odd)).toEqual({
      tally: { cattle: 1 },
      flagged: false,
      feral: false,
      unsure: false,
    })
  })
})

describe('a plain still of cattle', () => {
  it('needs no look', () => {
    expect(judge([box('cattle', 0.9, 1), box('cattle', 0.8, 2)])).toMatchObject({
      flagged: false,
      feral: false,
      unsure: false,
    })
  })

  it('needs none for cattle that stand side by side at the trough', () => {
    expect(judge([cow(at(0)), cow(at(60)), cow(at(120))]).unsure).toBe(false)
  })

  it('needs none for what is hardly there', () => {
    expect(judge([box('cattle', 0.9, 1), box('camel', 0.34, 2, 0.33)]).flagged).toBe(false)
  })
})

describe('a still is unsure', () => {
  it('when a box lies between flag and count', () => {
    expect(judge([box('cattle', 0.35, 1)])).toEqual({ tally: {}, flagged: true, feral: false, unsure: true })
    expect(judge([box('cattle', 0.9, 1), box('cattle', 0.49, 2)]).unsure).toBe(true)
  })

  it('when two boxes overlap heavily: one animal found twice, or one behind another', () => {
    // Two boxes of one size that share half of each: intersection over union 1/3.
    expect(judge([cow(at(0)), cow(at(50))]).unsure).toBe(true)
  })

  it('when a second species is nearly as good a name', () => {
    expect(judge([box('horse', 0.8, 1, 0.8 * CLOSE_RUNNER_UP)]).unsure).toBe(true)
    expect(judge([box('horse', 0.8, 1, 0.5)]).unsure).toBe(false)
  })
})

describe('a still is flagged', () => {
  it('when a feral species stands on it, at or over the flag threshold', () => {
    expect(judge([box('camel', 0.9, 1)])).toMatchObject({ flagged: true, feral: true, unsure: false })
    expect(judge([box('camel', 0.36, 1)])).toMatchObject({
      flagged: true,
      feral: true,
      unsure: true,
      tally: {},
    })
  })

  it('by whose animals they are to the owner: goats can be stock', () => {
    const goats = [box('goat', 0.9, 1)]
    expect(judge(goats).flagged).toBe(true)
    expect(judge(goats, {}, new Set<Species>(['camel'])).flagged).toBe(false)
  })

  it('whenever it is unsure', () => {
    const anyBox = fc.record({
      species: fc.constantFrom(...SPECIES),
      score: fc.double({ min: 0, max: 1, noNaN: true }),
      runnerUp: fc.double({ min: 0, max: 1, noNaN: true }),
      box: fc.tuple(
        fc.nat(50),
        fc.nat(50),
        fc.integer({ min: 51, max: 99 }),
        fc.integer({ min: 51, max: 99 }),
      ),
    })
    fc.assert(
      fc.property(fc.array(anyBox, { maxLength: 6 }), (found) => {
        const { tally, flagged, feral, unsure } = judge(found)
        expect(flagged).toBe(unsure || feral)
        const head = Object.values(tally).reduce((sum, n) => sum + n, 0)
        expect(head).toBe(found.filter(({ score }) => score >= shipped.count).length)
        expect(judge([...found].reverse())).toEqual({ tally, flagged, feral, unsure })
      }),
    )
  })
})
