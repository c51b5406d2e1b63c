import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseInstant as at } from '../../../services/station-time.ts'
import {
  type CameraRecord,
  knownUntil,
  type NewContact,
  secondsWithin,
  spellsChangedBy,
  unionOf,
  watchedShare,
  watchedSpells,
} from '../../../services/tally/effort.ts'
import { nightSpell } from '../../../services/tally/nights.ts'
import type { Instant, NightDate, Spell, Zone } from '../../../services/words.ts'

const HOUR_MS = 3_600_000
const hour = (hours: number) => (Date.UTC(2026, 10, 20) + hours * HOUR_MS) as Instant
const spell = (from: number, to: number): Spell => ({ from: hour(from), to: hour(to) })
/** Of a night that is over and spoken for. */
const watchedFraction = (spells: readonly Spell[], night: Spell) =>
  watchedShare({ watchedSeconds: secondsWithin(spells, night), night, knownUntil: night.to }) ?? 0
const ALWAYS = [{ from: null, to: null }]
const heartbeatCamera = (contacts: number[], deployments: CameraRecord['deployments'] = ALWAYS) =>
  watchedSpells({
    contacts: contacts.map(hour),
    deployments,
    expectedSilenceHours: 26,
    sendsHeartbeats: true,
  })
const quietCamera = (contacts: number[], deployments: CameraRecord['deployments'] = ALWAYS) =>
  watchedSpells({
    contacts: contacts.map(hour),
    deployments,
    expectedSilenceHours: 26,
    sendsHeartbeats: false,
  })

describe('a camera that sends heartbeats', () => {
  it('was watching between contacts no further apart than its expected silence', () => {
    expect(heartbeatCamera([0, 24, 50])).toEqual([spell(0, 50)])
  })

  it('was watching over a silence of exactly the expected length, and no longer one', () => {
    expect(heartbeatCamera([0, 26])).toEqual([spell(0, 26)])
    expect(heartbeatCamera([0, 26.01])).toEqual([])
  })

  it('was not watching in a long silence, and again after it', () => {
    expect(heartbeatCamera([0, 24, 72, 80])).toEqual([spell(0, 24), spell(72, 80)])
  })

  it('is not known to have watched before it first spoke or since it last did', () => {
    expect(heartbeatCamera([10, 20], [{ from: hour(0), to: null }])).toEqual([spell(10, 20)])
  })

  it('was not watching the point before it was put up there or after it was taken away', () => {
    expect(heartbeatCamera([0, 10, 20, 30], [{ from: hour(5), to: hour(25) }])).toEqual([spell(5, 25)])
  })

  it('was watching in each of its deployments, not between them', () => {
    const twice = [
      { from: null, to: hour(10) },
      { from: hour(20), to: null },
    ]
    expect(heartbeatCamera([0, 15, 30], twice)).toEqual([spell(0, 10), spell(20, 30)])
  })

  it('that spoke once, or stood nowhere, watched nothing', () => {
    expect(heartbeatCamera([5])).toEqual([])
    expect(heartbeatCamera([0, 5], [])).toEqual([])
  })
})

describe('a camera that sends no heartbeats', () => {
  it('counts as watching from its deployment to its last photo, however quiet', () => {
    expect(quietCamera([100, 400], [{ from: hour(0), to: null }])).toEqual([spell(0, 400)])
  })

  it('counts from its first photo when nobody knows since when it stands', () => {
    expect(quietCamera([100, 400])).toEqual([spell(100, 400)])
  })

  it('is judged in each deployment by the photos of that deployment', () => {
    const twice = [
      { from: hour(0), to: hour(50) },
      { from: hour(60), to: hour(200) },
    ]
    expect(quietCamera([40, 100, 300], twice)).toEqual([spell(0, 40), spell(60, 100)])
  })

  it('that never took a photo is not known to have watched', () => {
    expect(quietCamera([], [{ from: hour(0), to: hour(50) }])).toEqual([])
  })
})

describe('effort of a point', () => {
  const night = nightSpell('2026-11-25' as NightDate, 'Australia/Adelaide' as Zone)
  const part = (from: number, to: number): Spell => ({
    from: (night.from + from * HOUR_MS) as Instant,
    to: (night.from + to * HOUR_MS) as Instant,
  })

  it('is the watched part of the night', () => {
    expect(watchedFraction([part(0, 6)], night)).toBe(0.25)
    expect(watchedFraction([part(-100, 100)], night)).toBe(1)
    expect(watchedFraction([part(24, 30)], night)).toBe(0)
  })

  it('counts what two cameras watched at once only once', () => {
    expect(watchedFraction([part(0, 6), part(3, 12)], night)).toBe(0.5)
  })

  it('of a night in which clocks change is a part of its own length', () => {
    // 2026-10-03 has 23 hours in Adelaide (IANA time zone database, rule AS).
    const short = nightSpell('2026-10-03' as NightDate, 'Australia/Adelaide' as Zone)
    const half = { from: short.from, to: (short.from + 11.5 * HOUR_MS) as Instant }
    expect(watchedFraction([half], short)).toBe(0.5)
  })

  it('of a night without length is none', () => {
    expect(watchedFraction([part(0, 6)], part(3, 3))).toBe(0)
  })
})

const spells = fc.array(
  fc
    .tuple(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 0, max: 30 }))
    .map(([from, length]) => spell(from, from + length)),
  { maxLength: 15 },
)
const hours = fc.array(fc.integer({ min: 0, max: 300 }), { maxLength: 20 })

describe('effort of any cameras', () => {
  it('is between none and all of a night', () => {
    fc.assert(
      fc.property(spells, fc.integer({ min: 0, max: 100 }), (all, from) => {
        const fraction = watchedFraction(all, spell(from, from + 24))
        expect(fraction >= 0 && fraction <= 1).toBe(true)
      }),
    )
  })

  it('taken together twice is the same as once, and covers the same time', () => {
    fc.assert(
      fc.property(spells, fc.integer({ min: 0, max: 130 }), (all, at) => {
        const union = unionOf(all)
        expect(unionOf(union)).toEqual(union)
        const inside = (among: readonly Spell[]) =>
          among.some(({ from, to }) => from <= hour(at) && hour(at) < to)
        expect(inside(union)).toBe(inside(all))
      }),
    )
  })

  it('taken together lies in order and apart', () => {
    fc.assert(
      fc.property(spells, (all) => {
        const union = unionOf(all)
        union.slice(1).forEach((later, i) => {
          expect(later.from).toBeGreaterThan(union[i]?.to ?? Number.POSITIVE_INFINITY)
        })
      }),
    )
  })

  it('never falls with another contact of a camera that sends heartbeats', () => {
    fc.assert(
      fc.property(hours, fc.integer({ min: 0, max: 300 }), (contacts, another) => {
        const whole = spell(-1000, 1000)
        const before = secondsWithin(heartbeatCamera(contacts), whole)
        const after = secondsWithin(heartbeatCamera([...contacts, another]), whole)
        expect(after).toBeGreaterThanOrEqual(before)
      }),
    )
  })

  it('never lies outside the deployments', () => {
    fc.assert(
      fc.property(hours, spells, fc.boolean(), (contacts, deployments, beats) => {
        const watched = beats ? heartbeatCamera(contacts, deployments) : quietCamera(contacts, deployments)
        for (const stretch of watched) {
          expect(secondsWithin(deployments, stretch)).toBe((stretch.to - stretch.from) / 1000)
        }
      }),
    )
  })
})

describe('what is known of a night that still runs', () => {
  const night = { from: at('2026-11-25T12:00:00+10:30'), to: at('2026-11-26T12:00:00+10:30') }
  const camera = (lastContact: string) => ({ lastContactAt: at(lastContact), expectedSilenceHours: 26 })
  const share = (watchedSeconds: number, cameras: ReturnType<typeof camera>[], now: string) =>
    watchedShare({ watchedSeconds, night, knownUntil: knownUntil(cameras, at(now)) })

  it('ends with the last contact while the camera is not overdue: the hours since are not yet known', () => {
    expect(share(6 * 3600, [camera('2026-11-25T18:00:00+10:30')], '2026-11-25T23:00:00+10:30')).toBe(1)
  })

  it('is nothing where the last contact came before the night began', () => {
    expect(share(0, [camera('2026-11-25T05:00:00+10:30')], '2026-11-25T21:00:00+10:30')).toBeNull()
  })

  it('reaches to now once every camera is overdue: that silence is known', () => {
    expect(share(0, [camera('2026-11-23T05:00:00+10:30')], '2026-11-25T18:00:00+10:30')).toBe(0)
  })

  it('of a night that is over and spoken for is the whole of it', () => {
    expect(share(12 * 3600, [camera('2026-11-27T05:00:00+10:30')], '2026-11-27T06:00:00+10:30')).toBe(0.5)
  })
})

describe('what new contacts can change', () => {
  const contact = (hours: number, around: Partial<NewContact> = {}): NewContact => ({
    cameraId: 1,
    pointId: 7,
    at: hour(hours),
    before: null,
    after: null,
    known: false,
    expectedSilenceHours: 26,
    sendsHeartbeats: true,
    deployment: null,
    ...around,
  })
  const quiet = (hours: number, around: Partial<NewContact> = {}) =>
    contact(hours, { sendsHeartbeats: false, deployment: { id: 3, from: hour(-48) }, ...around })
  const spells = (...contacts: NewContact[]) => spellsChangedBy(contacts).map((one) => one.spell)

  it('nothing, between two that were close enough, or at an instant that is known', () => {
    expect(spells(contact(5, { before: hour(0), after: hour(10) }))).toEqual([])
    expect(spells(contact(5, { before: hour(0), known: true }))).toEqual([])
  })
  it('the way from the last contact, when that is not too far back', () => {
    expect(spells(contact(5, { before: hour(0) }))).toEqual([spell(0, 5)])
    expect(spells(contact(50, { before: hour(0) }))).toEqual([])
  })
  it('a gap too long to be watched is bridged by several that come together', () => {
    const around = { before: hour(0), after: hour(60) }
    expect(spells(contact(40, around), contact(20, around))).toEqual([
      spell(0, 20),
      spell(20, 40),
      spell(40, 60),
    ])
  })
  it('without heartbeats: from the start to the new last contact, and nothing in between', () => {
    expect(spells(quiet(5))).toEqual([spell(-48, 5)])
    expect(spells(quiet(9, { before: hour(2) }), quiet(5, { before: hour(2) }))).toEqual([spell(2, 9)])
    expect(spells(quiet(5, { before: hour(2), after: hour(9) }))).toEqual([])
    expect(spells(quiet(5, { deployment: null }))).toEqual([])
  })
  it('of each camera on its own, at the point it was sent for', () => {
    const there = contact(5, { before: hour(0), cameraId: 2, pointId: 8 })
    expect(spellsChangedBy([contact(6, { before: hour(0) }), there])).toEqual([
      { pointId: 7, spell: spell(0, 6) },
      { pointId: 8, spell: spell(0, 5) },
    ])
  })
})
