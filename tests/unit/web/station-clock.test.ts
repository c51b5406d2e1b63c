import { describe, expect, test } from 'vitest'
import { toStationTime, wallToInstant } from '../../../services/station-time.ts'
import type { Instant, Zone } from '../../../services/words.ts'
import { instantOf, wallOf } from '../../../web/parts/station-clock.ts'

const ZONES = ['Australia/Adelaide', 'Australia/Lord_Howe', 'Australia/Perth', 'America/St_Johns'] as Zone[]
const MINUTE_MS = 60_000
const STEP_MS = 47 * MINUTE_MS
/** Over both changes of clocks of a year in each zone. */
const [FROM, TO] = [Date.parse('2026-03-01T00:00:00Z'), Date.parse('2026-11-20T00:00:00Z')]

describe.each(ZONES)('in %s', (zone) => {
  test('the clock on the wall is the service’s', () => {
    for (let at = FROM; at < TO; at += STEP_MS) {
      expect(wallOf(at, zone)).toBe(toStationTime(at as Instant, zone).slice(0, 16))
    }
  })

  test('a time on the wall means the instant that it means to the service', () => {
    for (let at = FROM; at < TO; at += STEP_MS) {
      // Every wall time there is and some that there are not: hours twice lived and skipped are among them.
      const wall = new Date(at).toISOString().slice(0, 16)
      const [year, month, day, hour, minute] = wall.split(/[-T:]/).map(Number) as [
        number,
        number,
        number,
        number,
        number,
      ]
      const meant = wallToInstant({ year, month, day, hour, minute, second: 0 }, zone).at
      expect(instantOf(wall, zone), wall).toBe(meant)
    }
  })
})

test('what is no time is none', () => {
  expect(instantOf('', 'Australia/Adelaide')).toBeNaN()
  expect(instantOf('2026-13-01T00:00', 'Australia/Adelaide')).toBeNaN()
})
