/** What Trap yards says: the high end is never rounded down, and nobody is told more than is known. */
import { describe, expect, it } from 'vitest'
import type { GateHoursAnswer, TrapYardsAnswer, YardPoint } from '../../../services/http/trap-yard-shapes.ts'
import { hoursLines, moonWords } from '../../../web/text/gate-hours.ts'
import { headRange } from '../../../web/text/head-range.ts'
import { lackLines, saidTogether } from '../../../web/text/other-water.ts'
import { proposalWords, unlikeLines } from '../../../web/text/trap-yards.ts'
import { seldomAt, sharedWords } from '../../../web/text/yard-clusters.ts'
import { stepsLeft, tooSoon } from '../../../web/text/yard-training.ts'

const point = (pointId: number, name: string, change: Partial<YardPoint> = {}): YardPoint => ({
  pointId,
  name,
  lat: -28,
  lon: 134,
  hasYard: false,
  trap: null,
  withoutWater: false,
  use: 'seen',
  watchedNights: 54,
  visits: 30,
  rate: { low: 1, rate: 2, high: 3 },
  otherWater: {
    state: 'sure',
    at: '2026-11-28T03:20:00+10:30',
    who: 'Robin',
    openPointIds: [],
    elsewhere: 'a dam',
  },
  lack: null,
  keptOpenFor: [],
  training: { firstUsed: null, stage: 'not used yet', days: [] },
  ...change,
})
const cluster = (
  change: Partial<TrapYardsAnswer['clusters'][number]> = {},
): TrapYardsAnswer['clusters'][number] => ({
  clusterId: 1,
  pointIds: [1, 2],
  head: { low: 6.3, rate: 8, high: 9.97 },
  pairs: [],
  unsureIds: [],
  nearby: [],
  lacks: [],
  needAt: [2],
  yardsShort: 0,
  says: 'yards short',
  ...change,
})
const NONE = { low: 0, rate: 0, high: 0 }
const answer = (change: Partial<TrapYardsAnswer> = {}): TrapYardsAnswer => ({
  station: 'Thornbill Plains',
  now: '2026-11-28T03:20:00+10:30',
  today: '2026-11-28',
  homestead: { lat: -28, lon: 134 },
  species: 'camel',
  choices: [],
  lookedAt: { from: '2026-10-03', to: '2026-11-27' },
  nights: 56,
  waiting: 0,
  taken: [],
  means: { portableYards: 1, nightsSet: 7, openWeeks: 3, checkingWeeks: 1, saidAt: null },
  range: { species: 'camel', km: 25, source: 'from memory, check locally', fromMemory: true, own: false },
  ranges: [],
  visitsADay: { low: 1, high: 1, fromMemory: true },
  dispersion: 1,
  points: [point(1, 'Kite Bore', { hasYard: true }), point(2, 'Galah Well')],
  clusters: [cluster()],
  close: { clusterIds: [], portableAt: [], standingAt: [], head: NONE, yardsLeft: 1 },
  meet: null,
  ...change,
})

describe('head in words', () => {
  it.each([
    [{ low: 6.3, high: 9.97 }, '6 to 10 head'],
    [{ low: 6.3, high: 9.02 }, '6 to 10 head'],
    [{ low: 0.37, high: 0.71 }, '0.3 to 0.8 head'],
    [{ low: 0, high: 0 }, '0 head'],
    [{ low: 2, high: 2 }, '2 head'],
  ])('%o is %s: the low end down, the high end up', (interval, words) => {
    expect(headRange(interval)).toBe(words)
  })
})

describe('the proposal', () => {
  it('is a whole cluster, and where its portable yards go', () => {
    const close = {
      clusterIds: [1],
      portableAt: [2],
      standingAt: [1],
      head: { low: 6.3, rate: 8, high: 9.97 },
      yardsLeft: 0,
    }
    expect(proposalWords(answer({ close }))).toBe(
      'Set gates at Kite Bore and Galah Well: the whole cluster that camels share, 6 to 10 head. It takes 1 portable yard, at Galah Well.',
    )
  })

  it('is none while other water is not sure, and says where', () => {
    const lacks = [{ pointId: 2, lack: 'not said' as const }]
    const words = proposalWords(answer({ clusters: [cluster({ says: 'other water not sure', lacks })] }))
    expect(words).toBe(
      'Nothing is proposed for closing yet: other water for stock and wildlife is not sure at Galah Well.',
    )
  })

  it('is none with too few yards, and says how many are missing', () => {
    expect(proposalWords(answer({ clusters: [cluster({ yardsShort: 2 })] }))).toContain(
      '2 portable yards are missing',
    )
  })

  it('is none where none were seen', () => {
    expect(proposalWords(answer({ clusters: [cluster({ says: 'none seen', head: null })] }))).toBe(
      'No camels were seen in the 56 nights looked at, so nothing is proposed.',
    )
  })
})

describe('counts that are unlike what comes now', () => {
  it('say what is still being read, and what was taken since', () => {
    expect(unlikeLines(answer())).toEqual([])
    expect(unlikeLines(answer({ waiting: 1, taken: [{ pointId: 2, head: 16 }] }))).toEqual([
      '1 photo of these nights is still being read.',
      'Taken since Sat 3 Oct: 16 camels at Galah Well. They are still in the counts of the nights before.',
    ])
  })
})

describe('what is in the way', () => {
  it('is told once for each reason', () => {
    const told = answer({
      points: [point(1, 'Kite Bore'), point(2, 'Galah Well'), point(3, 'Lantern Bore', { keptOpenFor: [1] })],
    })
    expect(
      lackLines(told, [
        { pointId: 1, lack: 'not said' },
        { pointId: 2, lack: 'not said' },
        { pointId: 3, lack: 'kept open' },
      ]),
    ).toEqual([
      'Nobody has confirmed other water for Kite Bore and Galah Well.',
      'Lantern Bore is kept open: it is other water for Kite Bore.',
    ])
  })

  it('points of one word on other water stand together, others apart', () => {
    const other = point(3, 'Lantern Bore', {
      otherWater: { ...point(1, '').otherWater, elsewhere: 'the river' },
    })
    expect(saidTogether([point(1, 'a'), other, point(2, 'b')]).map((of) => of.length)).toEqual([2, 1])
  })
})

describe('what cameras saw', () => {
  const pair = (followed: TrapYardsAnswer['clusters'][number]['pairs'][number]['followed']) => ({
    pointIds: [1, 2] as [number, number],
    km: 13.4,
    followed,
  })
  const says = (followed: Parameters<typeof pair>[0]) =>
    sharedWords(answer(), cluster({ pairs: [pair(followed)] }))[0]

  it('is by distance only where one is not watched, or too few nights are', () => {
    expect(says(null)).toContain('By distance only: Kite Bore and Galah Well, 13 km')
    expect(says({ says: 'too few nights', moves: 2, byChance: null, p: null, nights: 9 })).toContain(
      'By distance only',
    )
  })
  it('proves nothing where it is no more than chance', () => {
    expect(says({ says: 'no more than by chance', moves: 2, byChance: 3, p: 0.7, nights: 54 })).toContain(
      'does not prove that none go',
    )
  })
  it('of moves is told beside what chance gives', () => {
    expect(says({ says: 'seen to move', moves: 9, byChance: 3.1, p: 0.02, nights: 54 })).toBe(
      'Seen to move between Kite Bore and Galah Well: 9 times in 54 nights, where chance gives about 3.',
    )
  })
  it('of a water seen seldom asks for a look at its photos', () => {
    const told = answer({ points: [point(1, 'Kite Bore'), point(2, 'Galah Well', { visits: 2 })] })
    expect(seldomAt(told, cluster()).map(({ name }) => name)).toEqual(['Galah Well'])
  })
})

describe('hours, days and weeks', () => {
  const hours = (change: object): GateHoursAnswer => ({
    species: 'camel',
    pointIds: [1],
    lookedAt: { from: '2026-10-03', to: '2026-11-27' },
    cattleShare: 0.1,
    mostHours: 12,
    byHand: false,
    answer: {
      kind: 'window',
      from: 20,
      to: 6,
      hours: 10,
      target: { share: 0.83, interval: { low: 0.77, high: 0.89 }, visits: 114 },
      cattle: { share: 0.05, interval: { low: 0.02, high: 0.08 }, visits: 190 },
      cattleVisits: 190,
      cattleHeadANight: { low: 0.2, rate: 0.6, high: 1.31 },
      nights: 55,
      ...change,
    },
    curves: { target: null, cattle: null },
    days: [],
    visits: 0,
  })

  it('say the conflict with cattle in head', () => {
    expect(hoursLines(hours({}))).toEqual([
      '83 in 100 visits of camels fall in these hours (77 to 89): 114 visits in 55 nights.',
      'Cattle: 5 in 100 of their visits (2 to 8); 0.2 to 1.4 head of cattle a night meet a set trap.',
    ])
  })
  it('say where no bound on cattle was kept, and where a range can’t be told', () => {
    const [target, cattle] = hoursLines(
      hours({ cattle: null, cattleVisits: 4, target: { share: 0.5, interval: null, visits: 12 } }),
    )
    expect(target).toContain('too few nights for a range')
    expect(cattle).toContain('no bound on cattle was kept')
  })
  it('of the moon are its phase, its light and its times while it is dark', () => {
    const sky = {
      lit: 0.686,
      phase: 'waning' as const,
      sunset: '2026-11-29T20:14:29+10:30',
      sunrise: '2026-11-30T06:27:55+10:30',
      moonrise: '2026-11-30T00:52:07+10:30',
      moonset: '2026-11-29T12:05:00+10:30',
    }
    expect(moonWords(sky)).toBe('waning, 69 % lit, up 00:52')
    expect(moonWords({ ...sky, moonrise: null, moonset: '2026-11-30T05:10:00+10:30' })).toBe(
      'waning, 69 % lit, down 05:10',
    )
  })

  const trained = point(1, 'Kite Bore', {
    training: {
      firstUsed: { on: '2026-11-20', by: 'trap open' },
      stage: 'gates open',
      days: [
        { on: '2026-11-20', step: 'tie gates open' },
        { on: '2026-12-04', step: 'look at tracks' },
        { on: '2026-12-18', step: 'set the trap' },
      ],
    },
  })
  it('a plan before the weeks of open gates are over says so', () => {
    expect(tooSoon(trained, '2026-12-12')).toContain('Fri 18 Dec at the earliest')
    expect(tooSoon(trained, '2026-12-18')).toBeNull()
    expect(tooSoon(point(2, 'Galah Well'), '2026-12-18')).toBe('animals do not know this yard yet')
  })
  it('only what is still to come is told', () => {
    expect(stepsLeft(trained, '2026-11-28')).toBe(
      'Still to come: look at tracks Fri 4 Dec and set the trap Fri 18 Dec.',
    )
    expect(stepsLeft(trained, '2027-01-01')).toBeNull()
  })
})
