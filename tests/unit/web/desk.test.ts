import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { CheckCard } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/cards.ts'
import { SPECIES } from '../../../services/words.ts'
import {
  answered,
  countedSpecies,
  type Desk,
  emptyDesk,
  isChecked,
  sayOnCard,
  standing,
  standingCard,
  undoStep,
} from '../../../web/screens/check/desk.ts'
import { cardOf, checkOf, stillOf } from './rows.ts'

const shownId = 1

function say(desk: Desk, card: CheckCard, word: CardWord): Desk {
  return sayOnCard(desk, card, { shownId, word })[0]
}

describe('a word on a card', () => {
  test('agree is a word on every photo of the card, and the card is done', () => {
    const card = cardOf([stillOf(1), stillOf(2)])
    const [desk, words] = sayOnCard(emptyDesk, card, { shownId, word: { kind: 'agree' } })
    expect(words).toEqual([
      { stillId: 1, verdict: 'agreed' },
      { stillId: 2, verdict: 'agreed' },
    ])
    expect(isChecked(desk, card)).toBe(true)
  })

  test('one more on top of one more counts two more', () => {
    const card = cardOf([stillOf(1, { machineTally: { camel: 3 } })])
    const once = say(emptyDesk, card, { kind: 'count', species: 'camel', head: 4 })
    const shown = standingCard(once, card)
    expect(shown.peaks).toEqual({ camel: 4 })
    const twice = say(once, card, {
      kind: 'count',
      species: 'camel',
      head: (shown.best.tally.camel ?? 0) + 1,
    })
    expect(standingCard(twice, card).peaks).toEqual({ camel: 5 })
  })

  test('nothing there leaves no animal on the card', () => {
    const card = cardOf([stillOf(1), stillOf(2)])
    expect(standingCard(say(emptyDesk, card, { kind: 'nothing there' }), card).peaks).toEqual({})
  })

  test('a card nobody touched here stands as the service says', () => {
    const card = { ...cardOf([stillOf(1)]), checked: true }
    expect(isChecked(emptyDesk, card)).toBe(true)
  })
})

describe('undo', () => {
  test('the first word undone takes the word back: the camera count stands again', () => {
    const card = cardOf([stillOf(1)])
    const undone = undoStep(say(emptyDesk, card, { kind: 'nothing there' }), [card])
    expect(undone?.words).toEqual([{ stillId: 1, verdict: 'withdrawn' }])
    expect(undone && standing(undone.desk, card.best).tally).toEqual({ camel: 3 })
  })

  test('an earlier correction comes back as it was', () => {
    const check = checkOf({ verdict: 'corrected', counts: { donkey: 2 } })
    const card = cardOf([stillOf(1, { tally: { donkey: 2 }, check })])
    const undone = undoStep(say(emptyDesk, card, { kind: 'nothing there' }), [card])
    expect(undone?.words).toEqual([{ stillId: 1, verdict: 'corrected', counts: { donkey: 2 } }])
  })

  test('with nothing said there is nothing to undo', () => {
    expect(undoStep(emptyDesk, [])).toBeNull()
  })

  test('undoing every step, however many, puts the card back as it was', () => {
    const word = fc.oneof(
      fc.constant<CardWord>({ kind: 'agree' }),
      fc.constant<CardWord>({ kind: 'nothing there' }),
      fc.record({
        kind: fc.constant('count' as const),
        species: fc.constantFrom(...SPECIES),
        head: fc.nat(20),
      }),
      fc.record({
        kind: fc.constant('species' as const),
        from: fc.constantFrom(...SPECIES),
        to: fc.constantFrom(...SPECIES),
      }),
    )
    const card = cardOf([
      stillOf(1, { machineTally: { camel: 3, cattle: 1 } }),
      stillOf(2, { machineTally: {} }),
    ])
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 12 }), (words) => {
        let desk = words.reduce((before, said) => say(before, card, said), emptyDesk)
        for (let step = undoStep(desk, [card]); step !== null; step = undoStep(desk, [card])) desk = step.desk
        const back = standingCard(desk, card)
        expect(back.stills.map((still) => still.tally)).toEqual(card.stills.map((still) => still.tally))
        expect(back.checked).toBe(false)
      }),
    )
  })

  test('undo still knows its steps after the service has answered', () => {
    const card = cardOf([stillOf(1)])
    const desk = answered(say(emptyDesk, card, { kind: 'agree' }))
    expect(desk.said.size).toBe(0)
    expect(undoStep(desk, [card])?.words).toEqual([{ stillId: 1, verdict: 'withdrawn' }])
  })
})

describe('which species the buttons count', () => {
  const feral = new Set(['camel', 'donkey'] as const)

  test('feral before stock, even where stock are more', () => {
    const still = stillOf(1, { machineTally: { cattle: 9, camel: 2 } })
    expect(countedSpecies(cardOf([still]), still, feral)).toEqual(['camel', 'cattle'])
  })

  test('where nothing is counted, the best box says what it may be', () => {
    const still = stillOf(1, {
      machineTally: {},
      boxes: [{ species: 'donkey', score: 0.3, box: [0, 0, 9, 9], counted: false }],
    })
    expect(countedSpecies(cardOf([still]), still, feral)).toEqual(['donkey'])
  })
})
