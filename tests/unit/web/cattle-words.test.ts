import { describe, expect, test } from 'vitest'
import { alarmWords, awayWords, hangingWords, limitWords } from '../../../web/text/cattle.ts'
import { cattleOf } from './rows.ts'

const NOW = '2026-11-25T06:10:00+10:30'
const learned = { hours: 26.2, from: 'this point' as const, absences: 84, oneIn: 40 }
const limit = {
  hours: 26.2,
  longestHours: 72,
  season: 'hot' as const,
  learned,
  heldAt: null,
  normalUntil: null,
}
const away = cattleOf({ state: 'not in', lastSeenAt: '2026-11-23T23:10:00+10:30', limit })

describe('how an alarm was reached', () => {
  test('says how long, and what it was learned from', () => {
    expect(alarmWords(away, { kind: 'bore', now: NOW })).toBe(
      'Away 31 h; at this bore in the hot season all but 1 in 40 absences ended within 26 h; learned from 84 absences.',
    )
  })
  test('is not said where there is no alarm', () => {
    expect(alarmWords(cattleOf({ limit }), { kind: 'bore', now: NOW })).toBeNull()
    expect(alarmWords({ ...away, state: 'away' }, { kind: 'bore', now: NOW })).toBeNull()
  })
  test('says whose past it is, what holds it, and until when somebody called it normal', () => {
    expect(limitWords({ ...limit, learned: { ...learned, from: 'the station' } }, 'dam')).toMatch(
      /over the whole station .* as this dam has too few of its own/,
    )
    expect(limitWords({ ...limit, heldAt: 'a day' }, 'dam')).toMatch(/Nothing under a day is news\.$/)
    expect(limitWords({ ...limit, heldAt: 'the owner’s longest' }, 'dam')).toMatch(/longest allowed, 72 h/)
    expect(limitWords({ ...limit, learned: null }, 'dam')).toMatch(/too little is known of this dam/)
    expect(limitWords({ ...limit, hours: 55, normalUntil: '2026-12-20T08:00:00+10:30' }, 'dam')).toMatch(
      /normal here: 55 h holds until Sun 20 Dec\.$/,
    )
  })
  test('a set trap is named as what may be why', () => {
    const because = { kind: 'trap set' as const, at: NOW, stops: false }
    expect(alarmWords({ ...away, because }, { kind: 'bore', now: NOW })).toMatch(/trap is set here/)
  })
  test('cattle away with good reason say the reason', () => {
    const because = { kind: 'rain' as const, at: '2026-11-24T08:00:00+10:30', stops: true }
    expect(awayWords({ ...away, because }, NOW)).toBe('Cattle away 31 h: rain on Tue 24 Nov')
  })
  test('hanging on water says how many at least, how long, since when', () => {
    const hanging = { from: '2026-11-24T11:20:00+10:30', hours: 3.04, head: 6, limitHours: 2.1 }
    expect(hangingWords(cattleOf({ hanging }))).toBe(
      'Hanging on water: at least 6 for 3 h in the heat from 11:20',
    )
    expect(hangingWords(cattleOf({}))).toBeNull()
  })
})
