import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checksDoor } from '../../../services/http/doors.ts'
import { type CardWord, type WordedStill, wordOnCard } from '../../../services/tally/card-word.ts'
import { type CardStill, cardsInOrder, cardsOf } from '../../../services/tally/cards.ts'
import { SPECIES, type Species, type Tally } from '../../../services/words.ts'
import { instantAt } from './sightings-arbitrary.ts'

const FERAL: ReadonlySet<Species> = new Set(['camel', 'horse', 'donkey', 'goat'])
const flagged = (id: number, minutes: number, tally: Tally, score = 0.8): CardStill => ({
  id,
  at: instantAt(minutes),
  tally,
  flagged: true,
  feral: Object.keys(tally).some((species) => species !== 'cattle'),
  score,
  sharpness: null,
})
const cards = (...stills: CardStill[]) => cardsOf(stills, 30, FERAL)

describe('cards of photos to check', () => {
  it('hold photos of one point with no gap over the gap, in order of time', () => {
    const made = cards(
      flagged(3, 61, { camel: 1 }),
      flagged(1, 0, { camel: 2 }),
      flagged(2, 30, { camel: 1 }),
    )
    expect(made.map(({ stills }) => stills.map(({ id }) => id))).toEqual([[1, 2], [3]])
    expect(made[0]).toMatchObject({ key: 1, startedAt: instantAt(0), endedAt: instantAt(30) })
  })

  it('are feral when a feral animal is on any photo, else unsure', () => {
    const made = cards(flagged(1, 0, { cattle: 4 }), flagged(2, 5, { camel: 1 }), flagged(3, 100, {}))
    expect(made.map(({ why }) => why)).toEqual(['feral', 'unsure'])
  })

  it('give the most head of each species in one photo', () => {
    const made = cards(flagged(1, 0, { camel: 2, cattle: 9 }), flagged(2, 5, { camel: 5 }))
    expect(made[0]?.peaks).toEqual({ camel: 5, cattle: 9 })
  })

  it('show first the feral photo with most feral head, however many cattle are on another', () => {
    const made = cards(
      flagged(1, 0, { cattle: 30 }),
      flagged(2, 5, { camel: 1, cattle: 30 }),
      flagged(3, 9, { camel: 3 }),
    )
    expect(made[0]?.bestStillId).toBe(3)
  })

  it('show first, of the same head, the best score and then the first taken in', () => {
    const better = cards(
      flagged(1, 0, { camel: 2 }, 0.6),
      flagged(2, 5, { camel: 2 }, 0.9),
      flagged(3, 9, { camel: 2 }, 0.9),
    )
    expect(better[0]?.bestStillId).toBe(2)
  })

  it('show first, of the same head, the one that is sure and sharp; by score alone where one was not measured', () => {
    const blurred = { ...flagged(1, 0, { camel: 2 }, 0.9), sharpness: 40 }
    const sharp = { ...flagged(2, 5, { camel: 2 }, 0.8), sharpness: 400 }
    expect(cards(blurred, sharp)[0]?.bestStillId).toBe(2)
    expect(cards(blurred, { ...sharp, sharpness: null })[0]?.bestStillId).toBe(1)
    expect(cards({ ...blurred, tally: { camel: 3 } }, sharp)[0]?.bestStillId).toBe(1)
  })

  it('are plain when nothing on them asks for a look, and come last', () => {
    const plain = { ...flagged(9, 400, { cattle: 3 }), flagged: false }
    const made = cards(plain, flagged(2, 100, {}))
    expect(made.map(({ why }) => why)).toEqual(['unsure', 'plain'])
    expect(cardsInOrder(made).map(({ key }) => key)).toEqual([2, 9])
  })

  it('show a feral photo even when too faint to be counted', () => {
    const faint = { ...flagged(2, 5, {}), feral: true }
    expect(cards(flagged(1, 0, { cattle: 8 }), faint)[0]).toMatchObject({ why: 'feral', bestStillId: 2 })
  })

  it('come feral first, then unsure, each latest first', () => {
    const made = cards(
      flagged(1, 0, { camel: 1 }),
      flagged(2, 100, {}),
      flagged(3, 200, { goat: 1 }),
      flagged(4, 300, {}),
    )
    expect(cardsInOrder(made).map(({ key }) => key)).toEqual([3, 1, 4, 2])
  })

  it('are none when nothing is flagged', () => {
    expect(cards()).toEqual([])
  })
})

const still = (id: number, tally: Tally, machineTally: Tally = tally): WordedStill => ({
  id,
  tally,
  machineTally,
})
const say = (word: CardWord, stills: readonly WordedStill[], shownId = stills[0]?.id ?? 0) =>
  wordOnCard({ stills, shownId, word })
const agreed = (stillId: number) => ({ stillId, verdict: 'agreed', counts: null })
const corrected = (stillId: number, counts: Tally) => ({ stillId, verdict: 'corrected', counts })

describe('one word on a card', () => {
  it('agree: every photo is as counted', () => {
    expect(say({ kind: 'agree' }, [still(1, { camel: 2 }), still(2, {})])).toEqual([agreed(1), agreed(2)])
  })

  it('agree: an earlier correction is kept, not taken back to what the models counted', () => {
    expect(say({ kind: 'agree' }, [still(1, { camel: 3 }, { camel: 2 })])).toEqual([
      corrected(1, { camel: 3 }),
    ])
  })

  it('nothing there: every photo is empty', () => {
    expect(
      say({ kind: 'nothing there' }, [still(1, { camel: 2 }), still(2, { cattle: 1 }), still(3, {})]),
    ).toEqual([corrected(1, {}), corrected(2, {}), agreed(3)])
  })

  it('a count: the photo shown has that many, and no other photo more', () => {
    const stills = [
      still(1, { camel: 5, cattle: 1 }),
      still(2, { camel: 4 }),
      still(3, { camel: 2 }),
      still(4, {}),
    ]
    expect(say({ kind: 'count', species: 'camel', head: 3 }, stills)).toEqual([
      corrected(1, { camel: 3, cattle: 1 }),
      corrected(2, { camel: 3 }),
      agreed(3),
      agreed(4),
    ])
  })

  it('a higher count: only the photo shown goes up', () => {
    const stills = [still(1, { camel: 2 }), still(2, { camel: 1 })]
    expect(say({ kind: 'count', species: 'camel', head: 4 }, stills, 2)).toEqual([
      agreed(1),
      corrected(2, { camel: 4 }),
    ])
  })

  it('a count of none: that species is on no photo, the others stay', () => {
    const stills = [still(1, { camel: 1, cattle: 2 }), still(2, { camel: 1 })]
    expect(say({ kind: 'count', species: 'camel', head: 0 }, stills)).toEqual([
      corrected(1, { cattle: 2 }),
      corrected(2, {}),
    ])
  })

  it('another species: the head moves, and joins what was there', () => {
    const stills = [still(1, { horse: 2, donkey: 1 }), still(2, { horse: 1 }), still(3, { cattle: 4 })]
    expect(say({ kind: 'species', from: 'horse', to: 'donkey' }, stills)).toEqual([
      corrected(1, { donkey: 3 }),
      corrected(2, { donkey: 1 }),
      agreed(3),
    ])
  })

  it('a kind of the station’s own: what was called goats is sheep, on every photo, and in no count', () => {
    const stills = [still(1, { goat: 2, camel: 1 }), still(2, { goat: 1 }), still(3, { camel: 1 })]
    expect(say({ kind: 'other', from: 'goat', name: 'sheep' }, stills)).toEqual([
      { ...corrected(1, { camel: 1 }), others: { sheep: 2 } },
      { ...corrected(2, {}), others: { sheep: 1 } },
      agreed(3),
    ])
  })

  it('a kind of the station’s own where nothing was counted: one, on the photo shown', () => {
    expect(say({ kind: 'other', from: null, name: 'dog' }, [still(1, {}), still(2, {})], 2)).toEqual([
      agreed(1),
      { ...corrected(2, {}), others: { dog: 1 } },
    ])
  })

  it('keeps the kinds of the station’s own that stood, unless nothing is there', () => {
    const stood = { ...still(1, { goat: 1 }), others: { dog: 2 } }
    expect(say({ kind: 'agree' }, [stood])).toEqual([{ ...corrected(1, { goat: 1 }), others: { dog: 2 } }])
    expect(say({ kind: 'nothing there' }, [stood])).toEqual([corrected(1, {})])
  })

  it('that comes out as the models counted is an agreement', () => {
    expect(say({ kind: 'count', species: 'camel', head: 2 }, [still(1, { camel: 3 }, { camel: 2 })])).toEqual(
      [agreed(1)],
    )
  })

  it('is refused for a photo that is not on the card, and for half an animal', () => {
    expect(() => say({ kind: 'agree' }, [still(1, {})], 2)).toThrow(RangeError)
    expect(() => say({ kind: 'count', species: 'goat', head: 1.5 }, [still(1, {})])).toThrow(RangeError)
    expect(() => say({ kind: 'count', species: 'goat', head: -1 }, [still(1, {})])).toThrow(RangeError)
  })

  const species = fc.constantFrom(...SPECIES)
  const tally = fc.dictionary(species, fc.integer({ min: 1, max: 9 }), { maxKeys: 3, noNullPrototype: true })
  const stills = fc
    .array(fc.record({ tally, machineTally: tally }), { minLength: 1, maxLength: 6 })
    .map((all) => all.map((one, i): WordedStill => ({ id: i + 1, ...one })))
  const word: fc.Arbitrary<CardWord> = fc.oneof(
    fc.constant<CardWord>({ kind: 'agree' }),
    fc.constant<CardWord>({ kind: 'nothing there' }),
    fc.record({ kind: fc.constant('count' as const), species, head: fc.nat(9) }),
    fc.record({ kind: fc.constant('species' as const), from: species, to: species }),
    fc.record({
      kind: fc.constant('other' as const),
      from: fc.option(species),
      name: fc.constantFrom('sheep', 'dog'),
    }),
  )

  it('of any kind says something of every photo, and said again changes nothing', () => {
    fc.assert(
      fc.property(stills, word, (before, said) => {
        const words = say(said, before)
        expect(words.map(({ stillId }) => stillId)).toEqual(before.map(({ id }) => id))
        const after = before.map((one, i) => {
          const word = words[i]!
          const others = word.verdict === 'corrected' ? (word.others ?? null) : null
          return { ...one, tally: word.counts ?? one.machineTally, others }
        })
        expect(say(said, after)).toEqual(words)
      }),
    )
  })

  it('of any kind is one that the service takes in', () => {
    fc.assert(
      fc.property(stills, word, (before, said) => {
        const words = say(said, before).map(({ counts, ...word }) =>
          word.verdict === 'agreed' ? word : { ...word, counts },
        )
        expect(checksDoor.safeParse({ words }).success).toBe(true)
      }),
    )
  })

  it('of another species loses no animal', () => {
    const headOf = (counts: Tally) => Object.values(counts).reduce((sum, head) => sum + head, 0)
    fc.assert(
      fc.property(stills, species, species, (before, from, to) => {
        const words = say({ kind: 'species', from, to }, before)
        before.forEach((one, i) => {
          expect(headOf(words[i]?.counts ?? one.machineTally)).toBe(headOf(one.tally))
        })
      }),
    )
  })
})
