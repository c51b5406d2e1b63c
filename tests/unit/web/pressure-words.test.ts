import { describe, expect, test } from 'vitest'
import { placed } from '../../../web/parts/placed.ts'
import { behindWords, clockOfHours, curveWords, overlapWords } from '../../../web/text/hours.ts'
import {
  changesOf,
  changeWords,
  checkLine,
  gapsOf,
  placeWords,
  rangeWords,
  seenWords,
  told,
  unlikeWords,
  weekSpan,
  weekTitle,
} from '../../../web/text/pressure.ts'
import { comparedOf, weekOf, weekPoint, weekRow } from '../report/week.ts'

describe('a change in words', () => {
  test('more says how many, in how many watched nights, against what', () => {
    const row = weekRow({ fourWeeks: comparedOf({ verdict: 'more' }) })
    expect(changeWords(row, weekPoint(), row.fourWeeks)).toBe(
      'More camels at Kite Bore: 14 visits in 7 watched nights against 13 in the 28 before; unlikely to be chance.',
    )
  })
  test.each([
    ['fewer', 'Fewer camels at Kite Bore'],
    ['no clear change', 'No clear change of camels at Kite Bore'],
    ['too few nights to tell', 'Too few nights to tell of camels at Kite Bore'],
  ] as const)('%s', (verdict, beginning) => {
    const before = comparedOf({ verdict })
    expect(changeWords(weekRow(), weekPoint(), before)).toMatch(beginning)
  })
  test('what may be chance is never said as if it were not', () => {
    const words = (ratio: number | null) =>
      changeWords(weekRow(), weekPoint(), comparedOf({ verdict: 'worth a look', ratio }))
    expect(words(2)).toMatch(/^Perhaps more .* may do so by chance\.$/)
    expect(words(0.4)).toMatch(/^Perhaps fewer /)
    // Nothing came before, so there is no ratio.
    expect(words(null)).toMatch(/^Perhaps more /)
  })
  test('more ferals and fewer stock come first, what may be so after them, and no change not at all', () => {
    const more = comparedOf({ verdict: 'more', ratio: 3, p: 0.001 })
    const rows = [
      weekRow({ species: 'horse', fourWeeks: comparedOf() }),
      weekRow({ species: 'goat', fourWeeks: comparedOf({ verdict: 'worth a look', ratio: 2, p: 0.03 }) }),
      weekRow({ species: 'cattle', fourWeeks: more }),
      weekRow({ species: 'camel', lastWeek: more }),
    ]
    const species = (['cattle', 'camel', 'horse', 'goat'] as const).map((one) => ({
      species: one,
      role: one === 'cattle' ? ('stock' as const) : ('feral' as const),
      dispersion: 1,
      visits: 1,
      animalVisits: 1,
    }))
    const changes = changesOf(weekOf({ rows, species }))
    expect(changes.map(({ row, against }) => [row.species, against])).toEqual([
      ['camel', 'lastWeek'],
      ['cattle', 'fourWeeks'],
      ['goat', 'fourWeeks'],
    ])
  })
  test('words on the point that make the weeks unlike are said, the latest of each kind', () => {
    const states = [
      { kind: 'water off' as const, at: '2026-10-20T08:00:00+10:30' },
      { kind: 'water off' as const, at: '2026-11-03T08:00:00+10:30' },
      { kind: 'rain' as const, at: '2026-11-05T08:00:00+10:30' },
    ]
    expect(unlikeWords(weekPoint({ states }))).toBe(
      'Water off on Tue 3 Nov, rain on Thu 5 Nov: the weeks may be unlike.',
    )
    expect(unlikeWords(weekPoint())).toBeNull()
  })
})

describe('numbers in words', () => {
  test('no more digits than say something', () => {
    expect([told(1234.4), told(41.2), told(4.123), told(0.4123), told(0)]).toEqual([
      '1,234',
      '41',
      '4.1',
      '0.41',
      '0',
    ])
  })
  test('points that differ by no more than chance have no places', () => {
    const ranked = { rate: 80, ownShare: 0.4, place: 2 }
    expect(placeWords(weekRow({ ranked }))).toBe('2')
    expect(placeWords(weekRow({ ranked: { ...ranked, ownShare: 0 } }))).toBe('alike')
    expect(placeWords(weekRow({ ranked: null }))).toBe('none')
  })
  test('not watched is never a number', () => {
    expect(rangeWords(null)).toBe('not watched')
    expect(rangeWords({ low: 109.2, rate: 200, high: 335.6 })).toBe('200 (109 to 336)')
  })
  test('the week by its noons', () => {
    expect(weekTitle('2026-W46')).toBe('Week 46 of 2026')
    expect(weekSpan(weekOf())).toBe('noon Mon 9 Nov to noon Mon 16 Nov')
    expect(seenWords(weekRow())).toBe('Mon 21:40 to Mon 04:10')
  })
  test('points that were not watched, wholly or in part, are named', () => {
    const partly = weekPoint({
      name: 'Pigeon Soak',
      watchedByNight: [1, 1, 1, 1, 0.5, 0, 0],
      watchedNights: 4.5,
    })
    expect(gapsOf(weekOf({ points: [...weekOf().points, partly] }))).toEqual([
      'Old & Far Tank: not watched, so nobody can say what came.',
      'Pigeon Soak: 4.5 of 7 nights watched.',
    ])
  })
  test('what is still to check, and still being read', () => {
    expect(checkLine(weekOf())).toBe('Every flagged photo of the week has been looked at.')
    expect(checkLine(weekOf({ toCheck: 2, waiting: 1 }))).toBe(
      '2 flagged photos still to check: the numbers may change. 1 photo of the week still being read.',
    )
  })
})

describe('hours in words', () => {
  const shares = Array.from({ length: 144 }, (_, step) => (step === 130 ? 0.2 : 0.01))
  const told = {
    pointId: 1,
    pointName: 'Kite Bore',
    from: '2026-10-01',
    to: '2026-11-25',
    nights: { asked: 56, watched: 54 },
    sunrise: 6.5,
    sunset: 19.25,
    species: 'camel' as const,
    curve: { visits: 30, clock: shares, sun: null },
    other: {
      species: 'cattle' as const,
      curve: { visits: 4, clock: null, sun: null },
      overlap: {
        overlap: 0.234,
        interval: { low: 0.1, high: 0.4 },
        nights: 54,
        visits: [30, 12] as [number, number],
      },
    },
  }
  test('the top of the curve, or that there are too few', () => {
    expect(curveWords('camel', told.curve, 'clock')).toBe('Camels come most around 21:40: 30 visits.')
    expect(curveWords('cattle', told.other.curve, 'clock')).toMatch(/too few to show hours/)
    expect(clockOfHours(23.999)).toBe('00:00')
  })
  test('the overlap has its range and its nights; the nights behind it are said', () => {
    expect(overlapWords(told)).toMatch(/overlap by 23 % \(10 % to 40 %\), from 54 watched nights/)
    expect(overlapWords({ ...told, other: { ...told.other, overlap: null } })).toBeNull()
    expect(behindWords(told)).toBe('54 of 56 nights watched. Sunrise about 06:30, sunset about 19:15.')
  })
})

describe('the map', () => {
  test('keeps north up, east right, and as far apart as they are', () => {
    // One degree of longitude at 60 degrees is half as wide as one of latitude.
    const points = [
      weekPoint({ pointId: 1, lat: -60.5, lon: 134 }),
      weekPoint({ pointId: 2, lat: -59.5, lon: 134 }),
      weekPoint({ pointId: 3, lat: -60.5, lon: 135 }),
    ]
    const [south, north, east] = placed(points).points
    expect(north!.y).toBeLessThan(south!.y)
    expect(east!.x - south!.x).toBeCloseTo((south!.y - north!.y) / 2, 0)
  })
  test('one point alone, or two at one place, lie on the sheet', () => {
    for (const points of [[weekPoint()], [weekPoint(), weekPoint({ pointId: 2 })]]) {
      const sheet = placed(points)
      for (const { x, y } of sheet.points) {
        expect(x).toBe(sheet.width / 2)
        expect(y).toBe(sheet.height / 2)
      }
    }
  })
})
