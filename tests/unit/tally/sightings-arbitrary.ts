/** Random sightings for property tests: few minutes and close together, so that gaps of exactly the limit turn up. */
import fc from 'fast-check'
import type { Sighting } from '../../../services/tally/visits.ts'
import type { Instant } from '../../../services/words.ts'

export const GAP_MINUTES = 30
const MINUTE_MS = 60_000
/** An hour before noon in Adelaide, so that some sightings fall on either side of a night's end. */
export const START_MS = Date.UTC(2026, 10, 25, 0, 30)

const minute = fc.oneof(
  fc.integer({ min: 0, max: 600 }),
  fc.integer({ min: 0, max: 20 }).map((i) => i * GAP_MINUTES),
)

export function instantAt(minutes: number): Instant {
  return (START_MS + minutes * MINUTE_MS) as Instant
}

/** Sightings with ids of their own; `least` 0 lets stills without head in. */
export function sightings(least: 0 | 1): fc.Arbitrary<Sighting[]> {
  const one = fc.record({
    stillId: fc.integer({ min: 1, max: 500 }),
    at: minute.map(instantAt),
    head: fc.integer({ min: least, max: 4 }),
    score: fc.constantFrom(0.5, 0.7, 0.9),
  })
  return fc.uniqueArray(one, { selector: ({ stillId }) => stillId, maxLength: 40 })
}
