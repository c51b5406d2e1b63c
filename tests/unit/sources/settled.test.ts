/** Which files of a drop folder have stopped changing. */
import { describe, expect, test } from 'vitest'
import { NOTHING_WATCHED, toRead, type Watched, watchOn } from '../../../services/sources/settled.ts'
import type { Instant } from '../../../services/words.ts'

const T0 = Date.parse('2026-11-25T06:00:00Z')
const at = (seconds: number) => (T0 + seconds * 1000) as Instant
const file = (path: string, bytes: number, modified = 0) => ({ path, bytes, modifiedAt: at(modified) })
const waits = { quietMs: 10_000, patienceMs: 120_000 }
const paths = (watched: Watched) => toRead(watched, waits).map(({ path }) => path)

/** Looks at these seconds, each with the file's size then. */
function looks(...seen: ReadonlyArray<readonly [seconds: number, bytes: number]>): Watched {
  return seen.reduce<Watched>(
    (watched, [seconds, bytes]) => watchOn(watched, [file('a', bytes)], at(seconds)),
    NOTHING_WATCHED,
  )
}
const asTried = (watched: Watched): Watched => ({
  ...watched,
  files: new Map([...watched.files].map(([path, one]) => [path, { ...one, reason: 'cut short' }])),
})

describe('a file', () => {
  test('is read once it has looked the same for so long', () => {
    expect(paths(looks([0, 5]))).toEqual([])
    expect(paths(looks([0, 5], [9, 5]))).toEqual([])
    expect(paths(looks([0, 5], [5, 5], [10, 5]))).toEqual(['a'])
  })
  test('waits again with every change of its size or its time', () => {
    expect(paths(looks([0, 5], [9, 6], [18, 7], [27, 7]))).toEqual([])
    const touched = watchOn(looks([0, 5], [9, 5]), [file('a', 5, 9)], at(12))
    expect(paths(touched)).toEqual([])
  })
  test('that was tried is tried once more, when patience is over', () => {
    const tried = asTried(looks([0, 5], [10, 5]))
    expect(paths(watchOn(tried, [file('a', 5)], at(20)))).toEqual([])
    const later = [60, 110, 160].reduce(
      (watched, seconds) => watchOn(watched, [file('a', 5)], at(seconds)),
      tried,
    )
    expect(paths(later)).toEqual(['a'])
    expect(paths(watchOn(tried, [file('a', 6)], at(20)))).toEqual([])
  })
  test('is forgotten when it is gone', () => {
    expect(watchOn(looks([0, 5], [10, 5]), [], at(20)).files.size).toBe(0)
  })
})

describe('a clock that is set', () => {
  test('ahead: the file was not seen all that time', () => {
    expect(paths(asTried(looks([0, 5], [10_000, 5])))).toEqual([])
  })
  test('back: nothing is held up', () => {
    expect(paths(looks([10_000, 5], [0, 5], [5, 5], [10, 5]))).toEqual(['a'])
  })
})
