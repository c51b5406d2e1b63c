/** Files that could not be read are told of on the water run while they say something of a camera now. */
import { afterAll, beforeAll, expect, it } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { recordResult } from '../../services/store/results.ts'
import { readWaterRun } from '../../services/store/water-run.ts'
import { nightToShow } from '../../services/tally/nights.ts'
import type { Instant, Zone } from '../../services/words.ts'
import { openSmallStation, receive, type SmallStation } from './small-station.ts'

const DAY = 86_400_000
const zone = 'Australia/Adelaide' as Zone
const NOW = parseInstant('2026-11-20T07:10:00+10:30')

let station: SmallStation
beforeAll(async () => {
  station = await openSmallStation()
})
afterAll(() => station.close())

async function unreadableAt(now: Instant): Promise<number> {
  const [facts] = await readWaterRun(station.ledger, { night: nightToShow(now, zone), now: new Date(now) })
  return facts!.unreadable
}
async function cutShort(name: string, at: Instant, receivedAt: Instant): Promise<void> {
  const id = await receive(station, { name, cameraId: station.cameraIds[0], at, receivedAt })
  await recordResult(station.ledger, id, { kind: 'unreadable', reason: 'cut short' })
}

it('those of an old card that is read in today are not', async () => {
  await cutShort('two months ago', (NOW - 60 * DAY) as Instant, NOW)
  expect(await unreadableAt(NOW)).toBe(0)
})

it('those of the last week are, for a week', async () => {
  await cutShort('yesterday', (NOW - DAY) as Instant, NOW)
  await cutShort('sent at once', (NOW - 2 * DAY) as Instant, (NOW - 2 * DAY) as Instant)
  expect(await unreadableAt(NOW)).toBe(2)
  expect(await unreadableAt((NOW + 5.5 * DAY) as Instant)).toBe(1)
  expect(await unreadableAt((NOW + 8 * DAY) as Instant)).toBe(0)
})
