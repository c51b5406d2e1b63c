/** What Set-up says of old photos that are looked at again. */
import { describe, expect, test } from 'vitest'
import type { Rerun } from '../../../services/http/shapes.ts'
import { chosenWords, olderWords, recountWords, rerunWords } from '../../../web/text/again.ts'

const models = { name: 'made-up', version: '2', stationNamer: null }
const rerun: Rerun = {
  id: 1,
  state: 'running',
  madeAt: '2026-11-25T06:10:00+10:30',
  from: '2026-10-01',
  to: '2026-11-24',
  pointIds: null,
  cameraIds: null,
  unreadableToo: false,
  namesOnly: false,
  models,
  total: 1650,
  done: 400,
  failed: 20,
  lastError: null,
  failures: [],
}

describe('how many photos an older model looked at', () => {
  test('is said with the nights of the first and the last', () => {
    expect(olderWords({ photos: 1650, from: '2026-10-01', to: '2026-11-24', models })).toBe(
      'An older model looked at 1,650 photos, of the nights Thu 1 Oct 2026 to Tue 24 Nov 2026.',
    )
    expect(olderWords({ photos: 1, from: '2026-10-01', to: '2026-10-01', models })).toBe(
      'An older model looked at 1 photo, of the night of Thu 1 Oct 2026.',
    )
  })
  test('where there is none, it says that nothing has to be done', () => {
    expect(olderWords({ photos: 0, from: null, to: null, models })).toMatch(/nothing to look at again/)
    expect(chosenWords({ photos: 0, from: null, to: null, models })).toMatch(/choose other nights/)
  })
})

describe('how far it is', () => {
  test('failed photos are gone through too, and are named apart', () => {
    expect(rerunWords(rerun)).toBe(
      'Looking again: 420 of 1,650 photos of the nights Thu 1 Oct 2026 to Tue 24 Nov 2026, 20 failed.',
    )
    expect(rerunWords({ ...rerun, state: 'paused', failed: 0 })).toMatch(/^Paused: 400 of 1,650 photos/)
  })
  test('at its end only what was really looked at again counts as such', () => {
    expect(rerunWords({ ...rerun, state: 'done', done: 1630 })).toBe(
      'Done: 1,630 photos looked at again, 20 failed.',
    )
    expect(rerunWords({ ...rerun, state: 'stopped' })).toBe(
      'Stopped: 400 of 1,650 photos looked at again, 20 failed.',
    )
  })
  test('counting again says when it is paused', () => {
    const recount = { state: 'running' as const, total: 9000, done: 1200, lastError: null }
    expect(recountWords(recount)).toBe('1,200 of 9,000 photos.')
    expect(recountWords({ ...recount, state: 'paused' })).toBe('Paused: 1,200 of 9,000 photos.')
  })
})
