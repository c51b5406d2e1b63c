import { describe, expect, test } from 'vitest'
import type { DrawnBox } from '../../../services/words.ts'
import { stillNow } from '../../../web/screens/check/standing.ts'
import { withBox, withoutBox } from '../../../web/screens/photo/drawn.ts'
import { checkOf, stillOf } from './rows.ts'

const box: DrawnBox = { species: 'camel', box: [1, 2, 30, 40] }
const other: DrawnBox = { species: 'camel', box: [50, 2, 90, 40] }
const now = (...given: Parameters<typeof stillOf>) => stillNow(stillOf(...given), [])

describe('a box that a person draws', () => {
  test('is an animal that the camera missed: one more', () => {
    const still = now(1, { machineTally: { camel: 2, cattle: 1 } })
    expect(withBox(still, box)).toEqual({
      stillId: 1,
      verdict: 'corrected',
      counts: { camel: 3, cattle: 1 },
      boxes: [box],
    })
  })
  test('does not raise a count that somebody has already put right', () => {
    const check = checkOf({ verdict: 'corrected', counts: { camel: 3 } })
    expect(withBox(now(1, { machineTally: { camel: 2 }, check }), box)).toMatchObject({
      counts: { camel: 3 },
    })
  })
  test('taken away again leaves the count as it was before it', () => {
    const before = now(1, { machineTally: { camel: 2 } })
    const after = stillNow(before, [{ batch: 'b', words: [withBox(before, box)] }])
    const two = stillNow(before, [{ batch: 'b', words: [withBox(before, box), withBox(after, other)] }])
    expect(two.tally).toEqual({ camel: 4 })
    expect(withoutBox(two, 0)).toMatchObject({ counts: { camel: 3 }, boxes: [other] })
    expect(withoutBox(after, 0)).toMatchObject({ counts: { camel: 2 }, boxes: [] })
  })
  test('taken away leaves a count that was said otherwise', () => {
    const check = checkOf({
      verdict: 'corrected',
      counts: { camel: 7 },
      boxes: [{ species: 'camel', box: [1, 2, 30, 40] }],
    })
    expect(withoutBox(now(1, { machineTally: { camel: 2 }, check }), 0)).toMatchObject({
      counts: { camel: 7 },
    })
  })
  test('keeps the kinds of the station’s own that stand', () => {
    const check = checkOf({ verdict: 'corrected', counts: {}, others: { sheep: 2 } })
    expect(withBox(now(1, { machineTally: {}, check }), box)).toMatchObject({ others: { sheep: 2 } })
  })
})
