import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cattleState, type PointWord, waterAtLevel, waterState } from '../../../services/tally/water-words.ts'
import type { Instant, Spell, StateKind } from '../../../services/words.ts'

const HOUR_MS = 3_600_000
/** Hours before now. */
const ago = (hours: number) => (Date.UTC(2026, 10, 25) - hours * HOUR_MS) as Instant
const now = ago(0)
const watchedFrom = (hoursAgo: number, toHoursAgo = 0): Spell => ({
  from: ago(hoursAgo),
  to: ago(toHoursAgo),
})
const cattle = (lastSeenHoursAgo: number | null, watched: readonly Spell[]) =>
  cattleState({
    lastSeenAt: lastSeenHoursAgo === null ? null : ago(lastSeenHoursAgo),
    now,
    limitHours: 72,
    watched,
  })

describe('cattle at a point', () => {
  it('are in when they were seen within the limit', () => {
    expect(cattle(3, [watchedFrom(100)])).toBe('in')
    expect(cattle(72, [watchedFrom(100)])).toBe('in')
  })

  it('are in when they were just seen, even where the camera has gone down since', () => {
    expect(cattle(30, [])).toBe('in')
  })

  it('are not in when they stayed away for longer than the limit from a watched point', () => {
    expect(cattle(73, [watchedFrom(100)])).toBe('not in')
  })

  it('are never called not in where nobody was watching', () => {
    expect(cattle(200, [])).toBe('not watched')
    expect(cattle(200, [watchedFrom(500, 200)])).toBe('not watched')
  })

  it('are called not in only once the watched hours, not those by the clock, reach the limit', () => {
    expect(cattle(120, [watchedFrom(120, 60), watchedFrom(11)])).toBe('not watched')
    expect(cattle(120, [watchedFrom(120, 60), watchedFrom(12)])).toBe('not in')
  })

  it('watched by two cameras at once are not away for longer because of it', () => {
    expect(cattle(80, [watchedFrom(80, 40), watchedFrom(80, 40)])).toBe('not watched')
  })

  it('that never came have never been seen', () => {
    expect(cattle(null, [watchedFrom(500)])).toBe('never seen')
  })

  it('are in by a sighting only, and not in by watched hours only', () => {
    const spells = fc.array(
      fc
        .tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 0, max: 100 }))
        .map(([to, length]) => watchedFrom(to + length, to)),
      { maxLength: 8 },
    )
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 200 }), spells, (seen, watched) => {
        const state = cattle(seen, watched)
        expect(state === 'in').toBe(seen <= 72)
        if (state === 'not in') expect(cattle(seen, [])).toBe('not watched')
      }),
    )
  })
})

const marks = { lowMarkPercent: 40, dryMarkPercent: 5 }
let lastId = 0
function tap(kind: StateKind, hoursAgo: number): PointWord {
  lastId += 1
  return { id: lastId, kind, at: ago(hoursAgo), source: 'tap', levelPercent: null }
}
function reading(levelPercent: number, hoursAgo: number): PointWord {
  lastId += 1
  return { id: lastId, kind: 'water good', at: ago(hoursAgo), source: 'reading', levelPercent }
}
const water = (...states: PointWord[]) => waterState({ states, now, marks })

describe('water at a point', () => {
  it('is not seen when nobody said anything, which is not the same as good', () => {
    expect(water()).toEqual({ state: 'not seen', at: null, source: null, levelPercent: null })
  })

  it.each([
    ['water good', 'good'],
    ['water low', 'low'],
    ['water dry', 'dry'],
    ['water off', 'off'],
  ] as const)('is what was tapped: %s', (kind, state) => {
    expect(water(tap(kind, 2))).toEqual({ state, at: ago(2), source: 'tap', levelPercent: null })
  })

  it('is the latest word, whichever way it came, in any order of the list', () => {
    expect(water(tap('water good', 5), reading(2, 1)).state).toBe('dry')
    expect(water(tap('water good', 1), reading(2, 5)).state).toBe('good')
    expect(water(reading(2, 5), tap('water good', 1)).state).toBe('good')
  })

  it('is the last word said when two bear the same time', () => {
    const [first, second] = [tap('water good', 1), tap('water low', 1)]
    expect(water(second, first).state).toBe('low')
  })

  it('is not seen once the last word is older than 48 hours', () => {
    expect(water(tap('water good', 48)).state).toBe('good')
    expect(water(tap('water good', 48.01)).state).toBe('not seen')
    expect(water(tap('water dry', 60)).state).toBe('not seen')
  })

  it('by a level is dry under the dry mark, low under the low mark, else good', () => {
    expect([4.9, 5, 39.9, 40, 100].map((level) => waterAtLevel(level, marks))).toEqual([
      'dry',
      'low',
      'low',
      'good',
      'good',
    ])
    expect(water(reading(12, 1))).toEqual({ state: 'low', at: ago(1), source: 'reading', levelPercent: 12 })
  })

  it('turned off stays off, however long ago', () => {
    expect(water(tap('water off', 1000)).state).toBe('off')
  })

  it('turned off stays off under a good level: a full tank says nothing of a closed valve', () => {
    expect(water(tap('water off', 10), reading(95, 1)).state).toBe('off')
  })

  it('turned off is on again when somebody says so', () => {
    expect(water(tap('water off', 10), tap('water good', 5)).state).toBe('good')
    expect(water(tap('water off', 100), tap('water good', 60)).state).toBe('not seen')
    expect(water(tap('water off', 100), tap('water good', 60), reading(20, 1)).state).toBe('low')
  })

  it('is not spoken of by words on traps, rain or spelling', () => {
    expect(water(tap('water low', 5), tap('trap set', 1), tap('rain', 1), tap('spelled', 1)).state).toBe(
      'low',
    )
    expect(water(tap('water off', 5), tap('trap open', 1)).state).toBe('off')
  })

  it('is not yet what is said of a time to come', () => {
    expect(water(tap('water dry', 5), tap('water good', -1)).state).toBe('dry')
  })
})
