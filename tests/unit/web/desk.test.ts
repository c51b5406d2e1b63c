import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { CheckCard, Still } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/card-word.ts'
import { MARKS, SPECIES } from '../../../services/words.ts'
import type { Word } from '../../../web/api/words.ts'
import {
  answered,
  countedSpecies,
  type Desk,
  dropped,
  emptyDesk,
  lastStep,
  said,
  standingCard,
  taken,
  undone,
  withFresh,
  wordsOnCard,
  wordsToMark,
} from '../../../web/screens/check/desk.ts'
import { cardOf, checkOf, stillOf } from './rows.ts'

const shownId = 1
let batches = 0

function put(desk: Desk, card: CheckCard, words: (now: ReturnType<typeof standingCard>) => Word[]): Desk {
  const now = standingCard(desk, card)
  batches += 1
  return said(desk, now, { batch: `b${batches}`, words: words(now) }).desk
}
const say = (desk: Desk, card: CheckCard, word: CardWord) =>
  put(desk, card, (now) => wordsOnCard(now, { shownId, word }))
const mark = (
  desk: Desk,
  card: CheckCard,
  ...given: Parameters<typeof wordsToMark> extends [unknown, ...infer Rest] ? Rest : never
) => put(desk, card, (now) => wordsToMark(now, ...given))

/** The last step taken back, as the screen does it. */
function undo(desk: Desk, card: CheckCard): Desk {
  const last = lastStep(desk, [standingCard(desk, card)])
  batches += 1
  return undone(desk, last === null ? null : { batch: `b${batches}`, words: last.words })
}

/** Everything said is with the service, which gave each photo as it stands. */
function sent(desk: Desk, card: CheckCard, at: number): Desk {
  const stills = standingCard(desk, card).stills.map(({ word, ...still }): Still => {
    const check =
      word === null ? null : checkOf({ ...(structuredClone(word) as Partial<Still['check'] & object>) })
    return { ...still, check }
  })
  return desk.waiting.reduce((after, { batch }) => taken(after, batch, { checks: [], stills, at }), desk)
}

describe('a word on a card', () => {
  test('agree is a word on every photo of the card, and the card is done', () => {
    const card = cardOf([stillOf(1), stillOf(2)])
    expect(wordsOnCard(standingCard(emptyDesk, card), { shownId, word: { kind: 'agree' } })).toEqual([
      { stillId: 1, verdict: 'agreed' },
      { stillId: 2, verdict: 'agreed' },
    ])
    expect(standingCard(say(emptyDesk, card, { kind: 'agree' }), card).checked).toBe(true)
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
    const card = cardOf([stillOf(1, { check: checkOf({ counts: { camel: 3 } }) })])
    expect(standingCard(emptyDesk, card).checked).toBe(true)
    const marked = cardOf([
      stillOf(1, { check: checkOf({ verdict: 'marked', counts: null, marks: ['ours'] }) }),
    ])
    expect(standingCard(emptyDesk, marked).checked).toBe(false)
  })

  test('another species takes the boxes that were drawn with it', () => {
    const drawn = checkOf({ counts: { camel: 2 }, boxes: [{ species: 'camel', box: [0, 0, 9, 9] }] })
    const card = cardOf([stillOf(1, { check: drawn })])
    const after = say(emptyDesk, card, { kind: 'species', from: 'camel', to: 'horse' })
    expect(standingCard(after, card).best.word?.boxes).toEqual([{ species: 'horse', box: [0, 0, 9, 9] }])
  })
})

describe('a mark on a card', () => {
  test('is on every photo, beside other marks, and leaves the card waiting', () => {
    const card = cardOf([
      stillOf(1, { check: checkOf({ verdict: 'marked', counts: null, marks: ['ours'] }) }),
      stillOf(2),
    ])
    const desk = mark(emptyDesk, card, 'person', true)
    const now = standingCard(desk, card)
    expect(now.stills.map(({ word }) => word?.marks)).toEqual([['ours', 'person'], ['person']])
    expect(now.checked).toBe(false)
    expect([...standingCard(mark(desk, card, 'person', false), card).marks]).toEqual(['ours'])
  })
  test('goes on with the word on the count that follows', () => {
    const card = cardOf([stillOf(1)])
    const desk = say(mark(emptyDesk, card, 'young', true), card, { kind: 'agree' })
    expect(standingCard(desk, card)).toMatchObject({ checked: true, best: { word: { marks: ['young'] } } })
  })
})

describe('undo', () => {
  test('the first word undone takes the word back: the camera count stands again', () => {
    const card = cardOf([stillOf(1)])
    const desk = say(emptyDesk, card, { kind: 'nothing there' })
    expect(lastStep(desk, [standingCard(desk, card)])?.words).toEqual([{ stillId: 1, verdict: 'withdrawn' }])
    expect(standingCard(undo(desk, card), card).best.tally).toEqual({ camel: 3 })
  })

  test('an earlier correction comes back as it was, with its marks', () => {
    const check = checkOf({ verdict: 'corrected', counts: { donkey: 2 }, marks: ['ours'] })
    const card = cardOf([stillOf(1, { tally: { donkey: 2 }, check })])
    const desk = say(emptyDesk, card, { kind: 'nothing there' })
    expect(lastStep(desk, [standingCard(desk, card)])?.words).toEqual([
      { stillId: 1, verdict: 'corrected', counts: { donkey: 2 }, marks: ['ours'], boxes: [] },
    ])
  })

  test('a count said over a mark alone leaves the mark alone again', () => {
    const check = checkOf({ verdict: 'marked', counts: null, marks: ['injured'] })
    const card = cardOf([stillOf(1, { check })])
    const after = standingCard(undo(say(emptyDesk, card, { kind: 'agree' }), card), card)
    expect(after).toMatchObject({ checked: false, best: { word: { counts: null, marks: ['injured'] } } })
  })

  test('with nothing said there is nothing to undo', () => {
    expect(lastStep(emptyDesk, [])).toBeNull()
  })

  test('undoing every step, however many, sent or not, puts the card back as it was', () => {
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
      fc.record({
        kind: fc.constant('other' as const),
        from: fc.option(fc.constantFrom(...SPECIES)),
        name: fc.constantFrom('sheep', 'dog'),
      }),
    )
    const act = fc.oneof(
      word,
      fc.record({ kind: fc.constant('mark' as const), mark: fc.constantFrom(...MARKS), on: fc.boolean() }),
    )
    const card = cardOf([
      stillOf(1, { machineTally: { camel: 3, cattle: 1 } }),
      stillOf(2, { machineTally: {}, check: checkOf({ verdict: 'marked', counts: null, marks: ['ours'] }) }),
    ])
    fc.assert(
      fc.property(fc.array(fc.tuple(act, fc.boolean()), { minLength: 1, maxLength: 12 }), (acts) => {
        let desk = acts.reduce((before, [one, send]) => {
          const after = one.kind === 'mark' ? mark(before, card, one.mark, one.on) : say(before, card, one)
          return send ? sent(after, card, 1) : after
        }, emptyDesk)
        while (desk.steps.length > 0) {
          expect(lastStep(desk, [standingCard(desk, card)])?.spokenOver).toBe(false)
          desk = undo(desk, card)
        }
        const back = standingCard(desk, card)
        const before = standingCard(emptyDesk, card)
        expect(back.stills.map(({ tally, word }) => [tally, word])).toEqual(
          before.stills.map(({ tally, word }) => [tally, word]),
        )
        expect(back.checked).toBe(false)
      }),
    )
  })

  test('what somebody else has said of a photo since stays', () => {
    const card = cardOf([stillOf(1), stillOf(2)])
    const mine = sent(say(emptyDesk, card, { kind: 'agree' }), card, 1)
    const theirs = stillOf(2, {
      tally: { goat: 4 },
      check: checkOf({ who: 'Ash', verdict: 'corrected', counts: { goat: 4 } }),
    })
    const desk = withFresh(mine, [theirs], 2)
    expect(lastStep(desk, [standingCard(desk, card)])).toMatchObject({
      spokenOver: true,
      words: [{ stillId: 1, verdict: 'withdrawn' }],
    })
  })

  test('also where they said the same', () => {
    const card = cardOf([stillOf(1), stillOf(2)])
    const said = say(emptyDesk, card, { kind: 'nothing there' })
    const checkedAs = (id: number, who: string) => checkOf({ id, who, verdict: 'corrected', counts: {} })
    const desk = taken(said, said.waiting[0]!.batch, {
      checks: [
        { id: 7, stillId: 1 },
        { id: 8, stillId: 2 },
      ],
      stills: [
        stillOf(1, { check: checkedAs(7, 'station') }),
        stillOf(2, { check: checkedAs(8, 'station') }),
      ],
      at: 1,
    })
    expect(lastStep(desk, [standingCard(desk, card)])?.spokenOver).toBe(false)
    const later = withFresh(desk, [stillOf(2, { check: checkedAs(9, 'Ash') })], 2)
    expect(lastStep(later, [standingCard(later, card)])).toMatchObject({
      spokenOver: true,
      words: [{ stillId: 1, verdict: 'withdrawn' }],
    })
    // What was said here later, and taken back, is no one else's word.
    const mine = { ...later, own: new Set([...later.own, 9]) }
    expect(lastStep(mine, [standingCard(mine, card)])?.spokenOver).toBe(false)
  })
})

describe('what the service answers', () => {
  const card = cardOf([stillOf(1)])
  test('undo still knows its steps once the service has them', () => {
    const desk = sent(say(emptyDesk, card, { kind: 'agree' }), card, 1)
    expect(desk.waiting).toEqual([])
    expect(lastStep(desk, [standingCard(desk, card)])?.words).toEqual([{ stillId: 1, verdict: 'withdrawn' }])
  })
  test('cards that were asked for before a word was answered do not take it off the page', () => {
    const desk = sent(say(emptyDesk, card, { kind: 'agree' }), card, 5)
    expect(standingCard(answered(desk, 4), card).checked).toBe(true)
    // What was asked for later holds it by itself.
    expect(standingCard(answered(desk, 6), card).checked).toBe(false)
  })
  test('a word that is not wanted is off the page, and is no step to take back', () => {
    const desk = say(emptyDesk, card, { kind: 'agree' })
    const after = dropped(desk, desk.waiting[0]!.batch)
    expect(standingCard(after, card).checked).toBe(false)
    expect(after.steps).toEqual([])
  })
  test('words that an earlier page left unsent stand on the cards', () => {
    const left = { batch: 'x', words: [{ stillId: 1, verdict: 'corrected', counts: { goat: 2 } } as const] }
    expect(standingCard({ ...emptyDesk, waiting: [left] }, card)).toMatchObject({
      checked: true,
      peaks: { goat: 2 },
    })
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
