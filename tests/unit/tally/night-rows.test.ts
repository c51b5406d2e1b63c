import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type NightRow, nightRowsOf } from '../../../services/tally/night-rows.ts'
import { nightOf } from '../../../services/tally/nights.ts'
import { type Sighting, visitsOf } from '../../../services/tally/visits.ts'
import type { Zone } from '../../../services/words.ts'
import { GAP_MINUTES, instantAt, sightings } from './sightings-arbitrary.ts'

const zone = 'Australia/Adelaide' as Zone
// `instantAt(0)` is 11:00 in Adelaide (UTC+10:30 in November), so noon is at 60 minutes.
const NOON = 60

function rowsOf(all: readonly Sighting[]): NightRow[] {
  return nightRowsOf({ sightings: all, visits: visitsOf(all, GAP_MINUTES), zone })
}
const seen = (stillId: number, minutes: number, head: number): Sighting => ({
  stillId,
  at: instantAt(minutes),
  head,
  score: 0.9,
})

describe('a night’s row', () => {
  it('gives visits, their peaks together, and the most head in one photo', () => {
    expect(rowsOf([seen(1, 100, 3), seen(2, 110, 5), seen(3, 300, 4)])).toEqual([
      { night: '2026-11-25', visits: 2, least: 5, sumOfPeaks: 9, photos: 3 },
    ])
  })

  it('takes a visit that runs over noon into the night of its first photo, and each photo into its own', () => {
    expect(rowsOf([seen(1, NOON - 10, 2), seen(2, NOON, 6)])).toEqual([
      { night: '2026-11-24', visits: 1, least: 2, sumOfPeaks: 6, photos: 1 },
      { night: '2026-11-25', visits: 0, least: 6, sumOfPeaks: 0, photos: 1 },
    ])
  })

  it('is not there for a night in which nothing was seen', () => {
    expect(rowsOf([])).toEqual([])
    expect(rowsOf([seen(1, 100, 0)])).toEqual([])
  })

  it('may have a smaller sum of peaks when a late photo joins two visits', () => {
    const apart = [seen(1, 100, 3), seen(2, 140, 5)]
    expect(rowsOf(apart)).toMatchObject([{ visits: 2, sumOfPeaks: 8 }])
    expect(rowsOf([...apart, seen(3, 120, 1)])).toMatchObject([{ visits: 1, sumOfPeaks: 5 }])
  })
})

describe('night rows of any sightings', () => {
  it('never lower a night’s least count when a photo comes in', () => {
    fc.assert(
      fc.property(sightings(0), sightings(1), (all, [late]) => {
        if (late === undefined) return
        const before = rowsOf(all)
        const after = new Map(rowsOf([...all, { ...late, stillId: 501 }]).map((row) => [row.night, row]))
        for (const row of before) {
          expect(after.get(row.night)?.least ?? 0).toBeGreaterThanOrEqual(row.least)
        }
        expect(after.get(nightOf(late.at, zone))?.least ?? 0).toBeGreaterThanOrEqual(late.head)
      }),
    )
  })

  it('do not depend on the order of arrival', () => {
    const shuffled = sightings(0).chain((all) =>
      fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })),
    )
    fc.assert(
      fc.property(shuffled, ([all, other]) => {
        expect(rowsOf(other)).toEqual(rowsOf(all))
      }),
    )
  })

  it('hold every visit and every photo once', () => {
    fc.assert(
      fc.property(sightings(1), (all) => {
        const visits = visitsOf(all, GAP_MINUTES)
        const rows = rowsOf(all)
        const sum = (of: (row: NightRow) => number) => rows.reduce((total, row) => total + of(row), 0)
        expect(sum((row) => row.visits)).toBe(visits.length)
        expect(sum((row) => row.sumOfPeaks)).toBe(visits.reduce((total, { peak }) => total + peak, 0))
        expect(sum((row) => row.photos)).toBe(all.length)
      }),
    )
  })
})
