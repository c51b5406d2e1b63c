import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { gapFor, type Sighting, touchedSpells, type Visit, visitsOf } from '../../../services/tally/visits.ts'
import { GAP_MINUTES, instantAt, sightings } from './sightings-arbitrary.ts'

let lastId = 0
function seen(minutes: number, head = 1, score = 0.9): Sighting {
  lastId += 1
  return { stillId: lastId, at: instantAt(minutes), head, score }
}

describe('a visit', () => {
  it('ends when nothing was seen for longer than the gap', () => {
    expect(visitsOf([seen(0), seen(31)], 30)).toHaveLength(2)
  })

  it('goes on when the gap is exactly reached', () => {
    expect(visitsOf([seen(0), seen(30), seen(60)], 30)).toHaveLength(1)
  })

  it('counts the most head in any one photo, never the sum', () => {
    expect(visitsOf([seen(0, 3), seen(5, 7), seen(10, 4)], 30)).toMatchObject([{ peak: 7, photos: 3 }])
  })

  it('runs from its first photo to its last', () => {
    expect(visitsOf([seen(20), seen(0), seen(45)], 30)).toMatchObject([
      { startedAt: instantAt(0), endedAt: instantAt(45) },
    ])
  })

  it('of one photo starts and ends with it', () => {
    expect(visitsOf([seen(5)], 30)).toMatchObject([{ startedAt: instantAt(5), endedAt: instantAt(5) }])
  })

  it('shows the photo with most head, then the best score, then the first one taken in', () => {
    const few = seen(0, 2, 0.99)
    const [first, second, clear] = [seen(1, 3, 0.6), seen(2, 3, 0.6), seen(3, 3, 0.8)]
    expect(visitsOf([few, first, clear, second], 30)[0]?.bestStillId).toBe(clear.stillId)
    expect(visitsOf([few, second, first], 30)[0]?.bestStillId).toBe(first.stillId)
  })

  it('is not made, and not held together, by a photo on which nothing stands', () => {
    expect(visitsOf([seen(0, 0)], 30)).toEqual([])
    expect(visitsOf([seen(0), seen(25, 0), seen(50)], 30)).toHaveLength(2)
  })
})

describe('the gap', () => {
  it('is the owner’s for cameras triggered by motion', () => {
    expect(gapFor(30, null)).toBe(30)
  })

  it('is at least one and a half times the interval of a camera on a schedule', () => {
    expect(gapFor(30, 60)).toBe(90)
    expect(gapFor(30, 20)).toBe(30)
    expect(gapFor(30, 15)).toBe(30)
  })

  it('keeps a visit whole when a camera on a schedule saw it at every turn', () => {
    expect(visitsOf([seen(0), seen(60), seen(120)], gapFor(30, 60))).toHaveLength(1)
  })
})

describe('visits of any sightings', () => {
  it('do not depend on the order of arrival', () => {
    const shuffled = sightings(0).chain((all) =>
      fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })),
    )
    fc.assert(
      fc.property(shuffled, ([all, other]) => {
        expect(visitsOf(other, GAP_MINUTES)).toEqual(visitsOf(all, GAP_MINUTES))
      }),
    )
  })

  it('hold every still exactly once', () => {
    fc.assert(
      fc.property(sightings(1), (all) => {
        const visits = visitsOf(all, GAP_MINUTES)
        for (const { at } of all) expect(visits.filter((visit) => holds(visit, at))).toHaveLength(1)
        expect(visits.reduce((sum, { photos }) => sum + photos, 0)).toBe(all.length)
      }),
    )
  })

  it('lie further apart than the gap', () => {
    fc.assert(
      fc.property(sightings(1), (all) => {
        const visits = visitsOf(all, GAP_MINUTES)
        visits.slice(1).forEach((later, i) => {
          const gapMs = later.startedAt - (visits[i]?.endedAt ?? 0)
          expect(gapMs).toBeGreaterThan(GAP_MINUTES * 60_000)
        })
      }),
    )
  })
})

describe('what a still touches', () => {
  it('is only itself when nothing is within a gap of it', () => {
    const visits = visitsOf([seen(0), seen(100)], 30)
    expect(touchedSpells(visits, [instantAt(50)], 30)).toEqual([{ from: instantAt(50), to: instantAt(50) }])
  })

  it('is both visits that it joins, and not the one beyond', () => {
    const visits = visitsOf([seen(0), seen(10), seen(60), seen(70), seen(110)], 30)
    expect(touchedSpells(visits, [instantAt(35)], 30)).toEqual([{ from: instantAt(0), to: instantAt(70) }])
  })

  it('is the whole visit that falls apart when it goes', () => {
    const visits = visitsOf([seen(0), seen(30), seen(60)], 30)
    expect(touchedSpells(visits, [instantAt(30)], 30)).toEqual([{ from: instantAt(0), to: instantAt(60) }])
  })

  it('of several is one stretch where they lie within a gap of each other, else each its own', () => {
    const visits = visitsOf([seen(0), seen(200)], 30)
    expect(touchedSpells(visits, [120, 25, 50].map(instantAt), 30)).toEqual([
      { from: instantAt(0), to: instantAt(50) },
      { from: instantAt(120), to: instantAt(120) },
    ])
  })

  it('kept up many photos at a time equals a recount', () => {
    fc.assert(
      fc.property(fc.array(sightings(0), { maxLength: 6 }), (batches) => {
        const ledger = openLedger()
        // Each batch brings photos of its own.
        for (const [i, batch] of batches.entries())
          ledger.apply(batch.map((sighting) => ({ ...sighting, stillId: sighting.stillId + 1_000 * i })))
        expect(ledger.visits()).toEqual(visitsOf(ledger.sightings(), GAP_MINUTES))
      }),
      { numRuns: 300 },
    )
  })

  it('kept up still by still, in any order, with counts corrected down to nothing, equals a recount', () => {
    const changes = fc.array(
      fc.record({ index: fc.nat(), head: fc.integer({ min: 0, max: 4 }), move: fc.boolean() }),
      {
        maxLength: 30,
      },
    )
    fc.assert(
      fc.property(sightings(0), changes, (arriving, corrections) => {
        const ledger = openLedger()
        for (const sighting of arriving) ledger.apply([sighting])
        for (const { index, head, move } of corrections) {
          const sighting = arriving[index % Math.max(1, arriving.length)]
          if (sighting === undefined) continue
          if (move) {
            // A shifted clock: the still goes from where it was, then comes where it belongs.
            ledger.apply([{ ...ledger.of(sighting), head: 0 }])
            ledger.apply([{ ...sighting, at: instantAt(index % 600), head }])
          } else ledger.apply([{ ...ledger.of(sighting), head }])
        }
        expect(ledger.visits()).toEqual(visitsOf(ledger.sightings(), GAP_MINUTES))
      }),
      { numRuns: 300 },
    )
  })
})

const holds = (visit: Visit, at: number): boolean => visit.startedAt <= at && at <= visit.endedAt

/** Keeps visits by the rule of `touchedSpells`, as the ledger does. */
function openLedger() {
  const byId = new Map<number, Sighting>()
  let kept: Visit[] = []
  return {
    of: (sighting: Sighting) => byId.get(sighting.stillId) ?? sighting,
    sightings: () => [...byId.values()],
    visits: () => kept,
    apply(changed: readonly Sighting[]) {
      for (const sighting of changed) byId.set(sighting.stillId, sighting)
      const moments = changed.map(({ at }) => at)
      for (const { from, to } of touchedSpells(kept, moments, GAP_MINUTES)) {
        const within = [...byId.values()].filter(({ at }) => from <= at && at <= to)
        const untouched = kept.filter(({ startedAt, endedAt }) => endedAt < from || startedAt > to)
        kept = [...untouched, ...visitsOf(within, GAP_MINUTES)].sort((a, b) => a.startedAt - b.startedAt)
      }
    },
  }
}
