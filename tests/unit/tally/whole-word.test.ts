import { describe, expect, it } from 'vitest'
import { type WholeWord, wholeWord } from '../../../services/tally/whole-word.ts'

const stood: WholeWord = {
  counts: { camel: 2 },
  others: { sheep: 1 },
  marks: ['person'],
  boxes: [{ species: 'camel', box: [0, 0, 9, 9] }],
}
const word = { stillId: 1 }

describe('a word on a photo, made whole', () => {
  it('agreed freezes what the models count, and no kind of the station’s own is there', () => {
    expect(wholeWord({ ...word, verdict: 'agreed' }, stood, { camel: 3 })).toEqual({
      ...stood,
      counts: { camel: 3 },
      others: null,
    })
  })
  it('corrected gives the count; a zero is not there', () => {
    const said = { ...word, verdict: 'corrected', counts: { camel: 0, goat: 4 }, others: { dog: 1 } } as const
    expect(wholeWord(said, null, { camel: 3 })).toEqual({
      counts: { goat: 4 },
      others: { dog: 1 },
      marks: [],
      boxes: [],
    })
  })
  it('marked leaves count, kinds and boxes as whoever gave them left them', () => {
    expect(wholeWord({ ...word, verdict: 'marked', marks: ['ours'] }, stood, { goat: 1 })).toEqual({
      ...stood,
      marks: ['ours'],
    })
  })
  it('marked on a photo of which nobody spoke says nothing of the count', () => {
    expect(wholeWord({ ...word, verdict: 'marked', marks: ['ours'] }, null, { goat: 1 }).counts).toBeNull()
  })
  it('marks go on until other marks are said; none is a word too', () => {
    expect(wholeWord({ ...word, verdict: 'agreed' }, stood, {}).marks).toEqual(['person'])
    expect(wholeWord({ ...word, verdict: 'agreed', marks: [] }, stood, {}).marks).toEqual([])
  })
  it('a box goes with its species, unless the word draws boxes itself', () => {
    const none = { ...word, verdict: 'corrected', counts: {} } as const
    expect(wholeWord(none, stood, {}).boxes).toEqual([])
    const drawn = [{ species: 'goat', box: [1, 1, 5, 5] }] as const
    expect(wholeWord({ ...none, counts: { goat: 1 }, boxes: drawn }, stood, {}).boxes).toEqual(drawn)
  })
  it('withdrawn: nothing stands', () => {
    expect(wholeWord({ ...word, verdict: 'withdrawn' }, stood, { camel: 3 })).toEqual({
      counts: null,
      others: null,
      marks: [],
      boxes: [],
    })
  })
})
