/** Weeks of open gates before a trap is set. */
import { describe, expect, it } from 'vitest'
import { trainingCalendar, trainingStage, USUAL_WEEKS } from '../../../services/planning/training-calendar.ts'
import type { NightDate } from '../../../services/words.ts'

const day = (date: string) => date as NightDate
const first = day('2026-03-30')

describe('a yard’s training', () => {
  it('goes from its first use: open gates, tracks each week, one-way gates, the trap', () => {
    expect(trainingCalendar(first, { open: 2, checking: 1 })).toEqual([
      { on: '2026-03-30', step: 'tie gates open' },
      { on: '2026-04-06', step: 'look at tracks' },
      { on: '2026-04-13', step: 'look at tracks' },
      { on: '2026-04-13', step: 'hang one-way gates' },
      { on: '2026-04-20', step: 'set the trap' },
    ])
  })

  it('can leave a part out', () => {
    expect(trainingCalendar(first, { open: 0, checking: 1 }).map(({ step }) => step)).toEqual([
      'hang one-way gates',
      'set the trap',
    ])
    expect(trainingCalendar(first, { open: 1, checking: 0 }).map(({ step }) => step)).toEqual([
      'tie gates open',
      'set the trap',
    ])
  })

  it('goes by whole weeks', () => {
    expect(() => trainingCalendar(first, { open: 1.5, checking: 0 })).toThrow(RangeError)
  })

  it('has a stage on every day that fits its calendar', () => {
    const stage = (today: string, firstUsed: NightDate | null = first) =>
      trainingStage(firstUsed, { today: day(today), weeks: USUAL_WEEKS })
    expect(stage('2026-04-01', null)).toBe('not used yet')
    expect(stage('2026-03-29')).toBe('not used yet')
    expect(stage('2026-03-30')).toBe('gates open')
    const days = trainingCalendar(first, USUAL_WEEKS)
    expect(stage(days.find(({ step }) => step === 'hang one-way gates')!.on)).toBe('one-way gates')
    expect(stage(days.at(-1)!.on)).toBe('ready to set')
    expect(stage('2026-04-26')).toBe('one-way gates')
  })
})
