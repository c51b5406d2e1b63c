/** A week's numbers do not depend on the order in which photos arrive, and are the sum of its nights. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { pressureOf } from '../../services/http/pressure-answer.ts'
import { parseInstant } from '../../services/station-time.ts'
import { weekNamed } from '../../services/tally/week-name.ts'
import type { Instant } from '../../services/words.ts'
import { openSmallStation, receive, record } from './small-station.ts'

const RUNS = 5
const START = parseInstant('2026-10-19T12:00:00+10:30')
const NOW = parseInstant('2026-11-25T06:10:00+10:30')
const WEEKS = 5
const MINUTES = WEEKS * 7 * 24 * 60

const photo = fc.record({
  minute: fc.integer({ min: 0, max: MINUTES - 1 }),
  camera: fc.constantFrom(0 as const, 1 as const),
  species: fc.constantFrom('cattle' as const, 'camel' as const),
  head: fc.integer({ min: 1, max: 6 }),
})
const arrivals = fc
  .uniqueArray(photo, {
    minLength: 20,
    maxLength: 60,
    selector: ({ minute, camera }) => `${minute} ${camera}`,
  })
  .chain((photos) =>
    fc.tuple(
      fc.constant(photos),
      fc.shuffledSubarray(photos, { minLength: photos.length, maxLength: photos.length }),
    ),
  )

type Photo = typeof photo extends fc.Arbitrary<infer One> ? One : never

async function weekAfter(photos: readonly Photo[]) {
  const station = await openSmallStation()
  try {
    for (const { minute, camera, species, head } of photos) {
      const at = (START + minute * 60_000) as Instant
      const still = { name: `${minute} ${camera}`, cameraId: station.cameraIds[camera], at }
      await record(station, await receive(station, still), { [species]: head })
    }
    return await pressureOf(station.ledger, { week: weekNamed('2026-W47')!, now: NOW })
  } finally {
    await station.close()
  }
}

test('whatever the order of arrival', async () => {
  await fc.assert(
    fc.asyncProperty(arrivals, async ([inOneOrder, inAnother]) => {
      const week = await weekAfter(inOneOrder)
      expect(await weekAfter(inAnother)).toEqual(week)
      for (const row of week.rows) {
        const nights = row.visitsByNight.reduce((sum, visits) => sum + visits, 0)
        expect(row.visits + row.visitsNotWatched).toBe(nights)
      }
      const [point] = week.points
      const watched = point!.watchedByNight.reduce<number>((sum, part) => sum + (part ?? 0), 0)
      expect(point!.watchedNights).toBeCloseTo(watched, 2)
    }),
    { numRuns: RUNS },
  )
}, 120_000)
