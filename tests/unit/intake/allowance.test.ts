/** How many photos a camera may send: a minute's worth that fills again, and a day's worth. */
import { describe, expect, test } from 'vitest'
import { type CameraSpent, openAllowance } from '../../../services/intake/allowance.ts'
import { Refusal } from '../../../services/refusal.ts'
import type { Instant } from '../../../services/words.ts'

const T0 = Date.parse('2026-11-25T06:00:00Z')
const at = (seconds: number) => (T0 + seconds * 1000) as Instant
const camera = (change: Partial<CameraSpent> = {}): CameraSpent => ({
  id: 1,
  name: 'Wren 1',
  day_began_at: null,
  day_stills: 0,
  ...change,
})
const limits = { stillsAMinute: 6, stillsADay: 100 }

/** Seconds after which it may be tried again; null where it may now. */
function waitOf(act: () => void): number | null {
  try {
    act()
    return null
  } catch (fault) {
    if (fault instanceof Refusal && fault.kind === 'too many') return fault.retryAfterSeconds ?? Number.NaN
    throw fault
  }
}

describe('a minute', () => {
  test('so many at once, then one each ten seconds', () => {
    const allowance = openAllowance()
    const send = (seconds: number) => {
      const wait = waitOf(() => allowance.refuseIfSpent(camera(), { limits, now: at(seconds) }))
      if (wait === null) allowance.spend(1, { limits, now: at(seconds) })
      return wait
    }
    expect([0, 0, 0, 0, 0, 0].map(send)).toEqual([null, null, null, null, null, null])
    expect([0, 4, 10, 10].map(send)).toEqual([10, 6, null, 10])
    expect(send(3_600)).toBeNull()
  })
  test('a form of many may empty it below nothing, and then it takes so much longer', () => {
    const allowance = openAllowance()
    for (let i = 0; i < 20; i += 1) allowance.spend(1, { limits, now: at(0) })
    expect(waitOf(() => allowance.refuseIfSpent(camera(), { limits, now: at(0) }))).toBe(150)
  })
  test('one camera’s is not another’s', () => {
    const allowance = openAllowance()
    for (let i = 0; i < 6; i += 1) allowance.spend(1, { limits, now: at(0) })
    expect(waitOf(() => allowance.refuseIfSpent(camera({ id: 2 }), { limits, now: at(0) }))).toBeNull()
  })
  test('a clock that is set back holds nobody up', () => {
    const allowance = openAllowance()
    for (let i = 0; i < 6; i += 1) allowance.spend(1, { limits, now: at(7_200) })
    expect(waitOf(() => allowance.refuseIfSpent(camera(), { limits, now: at(0) }))).toBeNull()
  })
})

describe('a day', () => {
  const wait = (day_began_at: Date | null, day_stills: number) =>
    waitOf(() => openAllowance().refuseIfSpent(camera({ day_began_at, day_stills }), { limits, now: at(0) }))
  test('full: until it is over', () => {
    expect(wait(new Date(T0 - 3_600_000), 100)).toBe(23 * 3_600)
    expect(wait(new Date(T0 - 3_600_000), 99)).toBeNull()
  })
  test('over, or begun by a clock that ran ahead: a new one', () => {
    expect(wait(new Date(T0 - 86_400_000), 100)).toBeNull()
    expect(wait(new Date(T0 + 3_600_000), 100)).toBeNull()
  })
})

test('without a limit as many as come', () => {
  const allowance = openAllowance()
  const none = { stillsAMinute: null, stillsADay: null }
  for (let i = 0; i < 1_000; i += 1) allowance.spend(1, { limits: none, now: at(0) })
  const full = camera({ day_began_at: new Date(T0), day_stills: 1e6 })
  expect(waitOf(() => allowance.refuseIfSpent(full, { limits: none, now: at(0) }))).toBeNull()
})
