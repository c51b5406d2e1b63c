/** Rounds of removal from what was taken day by day. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { roundsTaken, type TakenHead } from '../../../services/planning/removal-rounds.ts'

const taken = (day: string, head: number, change: Partial<TakenHead> = {}): TakenHead => ({
  pointId: 1,
  day: `2026-10-${day}`,
  method: 'trap yard',
  head,
  fate: 'trucked',
  effort: { amount: 1, unit: 'nights' },
  ...change,
})
const byDay = { length: 'day', equalEffort: false } as const
const rounds = (all: readonly TakenHead[], how: Parameters<typeof roundsTaken>[1] = byDay) => {
  const answer = roundsTaken(all, how)
  if (answer.kind === 'none') throw new Error(answer.why)
  return answer.rounds
}

describe('rounds', () => {
  it('are days, in order, whatever order they were written in', () => {
    expect(rounds([taken('22', 4), taken('20', 9), taken('21', 6)])).toEqual([
      { from: '2026-10-20', to: '2026-10-20', head: 9, cameBack: 0, effort: 1 },
      { from: '2026-10-21', to: '2026-10-21', head: 6, cameBack: 0, effort: 1 },
      { from: '2026-10-22', to: '2026-10-22', head: 4, cameBack: 0, effort: 1 },
    ])
  })

  it('count the effort of a point’s day once, and add up points', () => {
    const hours = (amount: number) => ({ effort: { amount, unit: 'hours' } })
    const [day] = rounds([
      taken('20', 5, hours(6)),
      taken('20', 1, { ...hours(6), fate: 'died' }),
      taken('20', 2, { ...hours(3), pointId: 2 }),
    ])
    expect(day).toMatchObject({ head: 8, effort: 9 })
  })

  it('tell apart those that were let go', () => {
    expect(rounds([taken('20', 5), taken('20', 2, { fate: 'released' })])[0]).toMatchObject({
      head: 5,
      cameBack: 2,
    })
  })

  it('are seven days from the first on, where weeks are wanted; a week without work is no round', () => {
    const weeks = rounds([taken('01', 5), taken('07', 4), taken('08', 3), taken('29', 1)], {
      length: 'week',
      equalEffort: false,
    })
    expect(weeks.map(({ from, to, head, effort }) => [from, to, head, effort])).toEqual([
      ['2026-10-01', '2026-10-07', 9, 2],
      ['2026-10-08', '2026-10-14', 3, 1],
      ['2026-10-29', '2026-11-04', 1, 1],
    ])
  })

  it('keep a day on which nothing was taken', () => {
    expect(rounds([taken('20', 9), taken('21', 0)]).map(({ head }) => head)).toEqual([9, 0])
  })

  it('have equal effort where somebody says so, written down or not', () => {
    const all = [taken('20', 9, { effort: null }), taken('21', 5)]
    const answer = roundsTaken(all, { length: 'day', equalEffort: true })
    expect(answer).toMatchObject({ unit: null, rounds: [{ effort: 1 }, { effort: 1 }] })
  })

  it('are none where they can’t be told', () => {
    const why = (all: readonly TakenHead[]) => {
      const answer = roundsTaken(all, byDay)
      return answer.kind === 'none' ? answer.why : answer.rounds.length
    }
    expect(why([])).toBe('nothing taken')
    expect(why([taken('20', 9), taken('21', 5, { method: 'shooting' })])).toBe('several methods')
    expect(why([taken('20', 9), taken('21', 5, { method: ' Trap Yard' })])).toBe(2)
    expect(why([taken('20', 9), taken('21', 5, { effort: null })])).toBe('effort not given')
    expect(why([taken('20', 9), taken('21', 5, { effort: { amount: 2, unit: 'hours' } })])).toBe(
      'efforts in several units',
    )
  })

  it('hold every head once, by days or by weeks', () => {
    const some = fc.array(
      fc.record({
        pointId: fc.integer({ min: 1, max: 3 }),
        day: fc.integer({ min: 1, max: 28 }).map((day) => String(day).padStart(2, '0')),
        head: fc.integer({ min: 0, max: 9 }),
        fate: fc.constantFrom('trucked', 'released', 'destroyed', 'died'),
      }),
      { minLength: 1, maxLength: 12 },
    )
    fc.assert(
      fc.property(some, fc.constantFrom('day', 'week'), (entries, length) => {
        const all = entries.map(({ day, head, pointId, fate }) => taken(day, head, { pointId, fate }))
        const found = rounds(all, { length, equalEffort: false })
        const heads = all.reduce((sum, { head }) => sum + head, 0)
        expect(found.reduce((sum, { head, cameBack }) => sum + head + cameBack, 0)).toBe(heads)
        expect(found.every(({ effort }) => effort > 0)).toBe(true)
      }),
    )
  })
})
