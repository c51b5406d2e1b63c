import { describe, expect, it } from 'vitest'
import { withoutSpells } from '../../../services/tally/effort.ts'
import { unreadableRise } from '../../../services/tally/unreadable-rise.ts'
import { type CameraWatching, whyNotWatched } from '../../../services/tally/why-not-watched.ts'
import type { Instant, Spell } from '../../../services/words.ts'

const HOUR_MS = 3_600_000
const hour = (hours: number) => (hours * HOUR_MS) as Instant
const spell = (from: number, to: number): Spell => ({ from: hour(from), to: hour(to) })
const night = spell(0, 24)
const always = [spell(-1000, 1000)]
const camera = (fields: Partial<CameraWatching>): CameraWatching => ({
  name: 'one',
  up: always,
  awake: [],
  troubles: [],
  ...fields,
})
const why = (cameras: readonly CameraWatching[], knownUntil = hour(24)) =>
  whyNotWatched(cameras, { night, knownUntil }).map(({ camera: name, why: reason, hours }) => [
    name,
    reason,
    hours,
  ])

describe('why a night was not watched', () => {
  it('asks for no reason where a camera saw all of it', () => {
    expect(why([camera({ awake: [night] }), camera({ name: 'two' })])).toEqual([])
  })

  it('tells the hours that a camera was down, not up here, and what kept it from seeing', () => {
    expect(why([camera({ awake: [spell(0, 10)] })])).toEqual([['one', 'down', 14]])
    expect(why([camera({ up: [spell(6, 1000)], awake: [spell(6, 24)] })])).toEqual([['one', 'not up', 6]])
    const troubles = [{ kind: 'knocked' as const, spell: spell(4, 1000) }]
    expect(why([camera({ awake: [night], troubles })])).toEqual([['one', 'knocked', 20]])
  })

  it('tells of a camera that was knocked and then fell silent the one and the other, the longest first', () => {
    const troubles = [{ kind: 'knocked' as const, spell: spell(4, 9) }]
    expect(why([camera({ awake: [spell(0, 9)], troubles })])).toEqual([
      ['one', 'down', 15],
      ['one', 'knocked', 5],
    ])
  })

  it('tells of each camera why, for what none of them saw', () => {
    const troubles = [{ kind: 'blind' as const, spell: spell(0, 24) }]
    expect(
      why([camera({ awake: [night], troubles }), camera({ name: 'two', awake: [spell(0, 20)] })]),
    ).toEqual([
      ['one', 'blind', 4],
      ['two', 'down', 4],
    ])
  })

  it('does not call down what is not known yet', () => {
    expect(why([camera({ awake: [spell(0, 10)] })], hour(10))).toEqual([['one', 'not yet known', 14]])
  })

  it('leaves minutes out', () => {
    expect(why([camera({ awake: [spell(0, 23.95)] })])).toEqual([])
  })
})

describe('what of some spells lies in none of the others', () => {
  it.each([
    [[spell(0, 10)], [spell(2, 4)], [spell(0, 2), spell(4, 10)]],
    [[spell(0, 10)], [spell(-5, 4), spell(8, 30)], [spell(4, 8)]],
    [[spell(0, 10)], [spell(0, 10)], []],
    [[spell(0, 2), spell(6, 8)], [spell(1, 7)], [spell(0, 1), spell(7, 8)]],
    [[spell(0, 2)], [], [spell(0, 2)]],
  ])('%#', (some, others, left) => {
    expect(withoutSpells(some, others)).toEqual(left)
  })
})

describe('unreadable files', () => {
  // The test itself (change.ts) is held to R's poisson.test in change.test.ts; here is what becomes of its answer.
  it.each([
    ['none now', 0, 100, 5, 800, false],
    ['two, whatever the past', 2, 2, 0, 800, false],
    ['as many as ever', 5, 100, 40, 800, false],
    ['many more than ever', 20, 100, 8, 800, true],
    ['fewer than ever', 3, 100, 300, 800, false],
    ['half of all at a camera without a past', 5, 10, 0, 0, true],
    ['few at a camera without a past', 3, 100, 0, 0, false],
  ])('%s', (_what, unreadable, files, before, all, rise) => {
    expect(unreadableRise({ unreadable, files }, { unreadable: before, files: all })).toBe(rise)
  })
})
